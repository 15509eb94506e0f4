"""What to show: sheets made of plain shapes, each with a role and never a colour."""
