"""Asking for a room as one would on site: questions and answers become a room file. No terminal is spoken to here."""
