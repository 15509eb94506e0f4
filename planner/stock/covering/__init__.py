"""Covering what is wanted with patterns, at the least cost, with a proof: what bars and panels share."""
