"""One module for each command: what it is given, which wing it calls, what it shows. No arithmetic here.

Modules import click and little else at the top; what is heavy is imported by the command that needs it, when it runs,
so that --help answers at once.
"""
