"""Lets `python -m planner` do what the `planner` command does."""

from planner.cli import main

main()
