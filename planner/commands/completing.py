"""What a shell may complete: room files, kinds of grid, drawing standards.

Shells ask click, and click asks here; what goes wrong completes nothing.
"""

from pathlib import Path

import click
from click.shell_completion import CompletionItem


def room_files(context: click.Context, parameter: click.Parameter, begun: str) -> list[CompletionItem]:
    """YAML files and folders that begin so."""
    folder = Path(begun) if begun.endswith("/") else Path(begun).parent
    try:
        found = sorted(folder.iterdir())
    except OSError:
        return []
    lead = begun[: begun.rfind("/") + 1]
    names = [f"{lead}{p.name}{'/' if p.is_dir() else ''}" for p in found if _may_be_room(p)]
    return [CompletionItem(name) for name in names if name.startswith(begun)]


def _may_be_room(path: Path) -> bool:
    return not path.name.startswith(".") and (path.is_dir() or path.suffix.lower() in (".yaml", ".yml"))


def systems(context: click.Context, parameter: click.Parameter, begun: str) -> list[CompletionItem]:
    """Built-in kinds of grid."""
    from planner.ceiling.system import system_names

    return [CompletionItem(name) for name in system_names() if name.startswith(begun)]


def styles(context: click.Context, parameter: click.Parameter, begun: str) -> list[CompletionItem]:
    """Drawing standards of the house."""
    from planner.drawing.stylebook import style_names

    return [CompletionItem(name) for name in style_names() if name.startswith(begun)]
