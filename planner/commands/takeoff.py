"""`planner takeoff`: what to buy, as a table, as CSV, as JSON, or as a spreadsheet for the counter."""

from pathlib import Path

import click

from planner.commands import common


@click.command(short_help="List what to buy.", epilog=common.SHOWN)
@common.ROOM
@common.JSON
@click.option("--csv", "as_csv", is_flag=True, help="Print the list as CSV, for a spreadsheet.")
@click.option("--xlsx", type=click.Path(path_type=Path), help="Write the order into this spreadsheet file as well.")
def takeoff(room: Path, as_json: bool, as_csv: bool, xlsx: Path | None) -> None:
    """List what to buy for ROOM, or for all rooms of a building file together.

    \b
    Examples:
      planner takeoff kiln-room.yaml
      planner takeoff kiln-room.yaml --csv > order.csv
      planner takeoff kiln-room.yaml --xlsx order.xlsx
    """
    from planner.files import order_csv
    from planner.record import bill_record, takeoff_record
    from planner.report import order_table

    if as_json and as_csv:
        raise click.UsageError("--csv and --json cannot both be printed; take one of them.")
    if xlsx is not None:
        common.check_file(xlsx, ".xlsx", "--xlsx")
    document = common.read(room)
    building = common.building(document)
    bought = common.planned(document).stock if building is None else building.pool
    lines, bill = bought.takeoff, bought.bill
    if xlsx is not None:
        from planner.export import write_folder
        from planner.order_file import order_xlsx

        write_folder(xlsx.parent, {xlsx.name: order_xlsx(lines, bill)}, "--xlsx")
    if as_json:
        common.show_json({"takeoff": takeoff_record(lines), "bill": bill_record(bill)})
    elif as_csv:
        click.echo(order_csv(lines, bill).encode(), nl=False)
    else:
        click.echo(order_table(lines, bill))
