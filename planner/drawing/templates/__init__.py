"""Templates: cut panels at full size on paper, to lay on the panel and cut by."""
