"""The page: the sheets and lists of a plan for a browser, as one file or kept current while the room file is edited."""
