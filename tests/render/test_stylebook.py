"""Styles: those that come along are complete and lawful; a user's own is refused with a reason, or read."""

import re
from pathlib import Path

import pytest

from planner.drawing.papers import find_paper
from planner.drawing.roles import Role
from planner.drawing.stylebook import PENS, load_style, style_names
from planner.errors import InputError

NAMES = style_names()

#: AIA long form: discipline, major, minor, minor.
US_NAME = re.compile(r"[A-Z][A-Z-]?-[A-Z]{4}(-[A-Z]{4}){0,2}")
#: ISO 13567-2: agent 2, element 6, presentation 2.
ISO_NAME = re.compile(r"[A-Z][A-Z-][0-9-]{6}[A-Z][A-Z-]")


def own_style(folder: Path, *changes: tuple[str, str]) -> Path:
    """Copy a style that comes along, with changes."""
    text = (Path(__file__).parents[2] / "styles" / "site-bold.yaml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, f"{old!r} is not in the style any more"
        text = text.replace(old, new, 1)
    path = folder / "own.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def written(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def refused(folder: Path, *changes: tuple[str, str]) -> str:
    with pytest.raises(InputError) as caught:
        load_style(own_style(folder, *changes))
    return str(caught.value)


def test_four_styles_come_along():
    assert NAMES == ("bs-1192", "iso-13567", "site-bold", "us-ncs")


@pytest.mark.parametrize("name", NAMES)
def test_every_role_has_a_layer_and_every_pen_fits_a_dxf_layer(name):
    style = load_style(name)
    assert style.name == name
    for role in Role:
        assert style.layer(role).name == style.role(role).layer
        assert style.layer(role).plots
        assert style.role(role).height >= 1.5
    assert {layer.pen for layer in style.layers} <= set(PENS)
    assert {layer.name for layer in style.layers if layer.plots} <= {entry.layer for _, entry in style.roles}
    assert find_paper(style.paper).name == style.paper


def test_us_layers_have_the_form_of_the_aia_long_format():
    assert all(US_NAME.fullmatch(layer.name) for layer in load_style("us-ncs").layers)


def test_iso_layers_have_ten_places():
    assert all(ISO_NAME.fullmatch(layer.name) for layer in load_style("iso-13567").layers)


#: Role - classification - presentation _ alias, as in A-G23-M2_Stair, an example read on a public page.
BS_NAME = re.compile(r"[A-Z]-[A-Za-z0-9_]+-[A-Z][0-9A-Z]?_[A-Za-z]+")


def test_british_layers_have_a_role_a_classification_a_presentation_and_an_alias():
    assert BS_NAME.fullmatch("A-G23-M2_Stair")
    assert all(BS_NAME.fullmatch(layer.name) for layer in load_style("bs-1192").layers)


def test_no_classification_is_invented_and_an_office_puts_in_its_own(tmp_path):
    """No code for ceilings could be verified: Z stands until somebody supplies one."""
    assert {layer.name.split("-")[1] for layer in load_style("bs-1192").layers} == {"Z"}
    path = written(tmp_path, "office.yaml", "extends: bs-1192\ncodes: {ceiling: Ss_30_25}\n")
    own = load_style(path)
    assert own.layer(Role.MAIN_TEE).name == "A-Ss_30_25-M2_MainTees"
    assert own.layer(Role.WALL).name == "A-Z-M2_Walls"


def test_the_site_style_is_black_and_white_and_heavier_than_the_others():
    bold, plain = load_style("site-bold"), load_style("iso-13567")
    plotted = [layer.colour for layer in bold.layers if layer.plots]
    assert all(colour[1:3] == colour[3:5] == colour[5:7] for colour in plotted)
    assert bold.layer(Role.WALL).pen > plain.layer(Role.WALL).pen
    assert all(bold.role(role).height >= plain.role(role).height for role in Role)


def test_walls_are_the_heaviest_lines_of_the_drawing_and_dimensions_thin():
    """NCS pens: wide 0.50 for edges, fine and thin 0.18 to 0.25 for dimensions."""
    style = load_style("us-ncs")
    assert style.layer(Role.WALL).pen == 0.50
    assert style.layer(Role.DIMENSION).pen in (0.18, 0.25)


def test_an_own_file_is_read_from_a_path_beside_the_room_file(tmp_path):
    own_style(
        tmp_path,
        ("WALL:       {colour", "OWN-WALL:   {colour"),
        ("wall:         {layer: WALL}", "wall: {layer: OWN-WALL}"),
    )
    style = load_style("own.yaml", tmp_path)
    assert (style.name, style.layer(Role.WALL).name) == ("own", "OWN-WALL")


def test_a_misspelt_style_is_refused_with_the_nearest():
    with pytest.raises(InputError, match=r'no style "us-nsc"(.|\n)*Did you mean "us-ncs"'):
        load_style("us-nsc")
    with pytest.raises(InputError, match="Styles: bs-1192, iso-13567, site-bold, us-ncs"):
        load_style("zzz")


def test_a_file_that_is_not_there_is_refused(tmp_path):
    with pytest.raises(InputError, match=r"nowhere\.yaml"):
        load_style("nowhere.yaml", tmp_path)


def test_an_unknown_role_is_refused_with_the_nearest(tmp_path):
    said = refused(tmp_path, ("  main tee:     {", "  main te:      {"))
    assert 'there is no role "main te"' in said
    assert 'Did you mean "main tee"?' in said
    assert 'the role "main tee" is missing' in said
    assert re.search(r"own\.yaml:\d+:\d+", said)


def test_an_unknown_layer_is_refused_with_the_nearest(tmp_path):
    said = refused(tmp_path, ("{layer: CROSS-TEE}", "{layer: CROS-TEE}"))
    assert 'there is no layer "CROS-TEE"' in said
    assert 'Did you mean "CROSS-TEE"?' in said


def test_an_unknown_key_is_refused_with_the_nearest(tmp_path):
    said = refused(tmp_path, ("aci: 254, pen: 0.18", "aci: 254, pen: 0.18, plot: true"))
    assert 'unknown key "plot"' in said
    assert 'Did you mean "plots"?' in said


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("pen: 1.00", "pen: 0.33", "0.33 is not a line width that a DXF layer can hold"),
        ("pen: 1.00", "pen: .nan", "nan"),
        ("dash: [4.2, 1.05]", "dash: [4.2]", "is not a dash pattern"),
        ("dash: [4.2, 1.05]", "dash: [4.2, 0]", "is not a dash pattern"),
        ("CUT-MARK: ", "cut-shade: ", "are the same layer in CAD"),
        ("CUT-MARK: ", '"CUT<MARK": ', "cannot be the name of a layer"),
        ("CUT-MARK: ", '"0": ', "cannot be the name of a layer"),
        ("CUT-MARK: ", "Defpoints: ", "cannot be the name of a layer"),
        ('colour: "#e2e2e2"', "colour: grey", "layers › CUT-SHADE › colour"),
        ("aci: 254", "aci: 256", "layers › CUT-SHADE › aci"),
        ("height: 7.0", "height: -7.0", "roles › sheet title › height"),
        ("title: Bold", "subtitle: Bold", "subtitle"),
    ],
)
def test_what_a_dxf_cannot_hold_is_refused_at_its_place(tmp_path, old, new, said):
    assert said in refused(tmp_path, (old, new))


def test_all_complaints_come_at_once(tmp_path):
    said = refused(tmp_path, ("pen: 1.00", "pen: 0.33"), ("{layer: CROSS-TEE}", "{layer: CROS-TEE}"))
    assert "0.33" in said
    assert "CROS-TEE" in said


def test_pens_are_those_that_the_dxf_library_takes():
    """The list is the DXF reference's for group code 370; the library that writes the files has its own copy."""
    from ezdxf.lldxf.const import VALID_DXF_LINEWEIGHTS

    assert {round(pen * 100) for pen in PENS} == set(VALID_DXF_LINEWEIGHTS)


# A style that extends another


def test_a_file_changes_single_values_of_the_style_that_it_extends(tmp_path):
    text = "extends: us-ncs\nroles: {note: {height: 3.5}}\nlayers: {A-WALL: {pen: 0.70}}\n"
    own, plain = load_style(written(tmp_path, "mine.yaml", text)), load_style("us-ncs")
    assert own.role(Role.NOTE).height == 3.5
    assert own.layer(Role.WALL).pen == 0.70
    assert own.layer(Role.WALL).colour == plain.layer(Role.WALL).colour
    same = set(Role) - {Role.NOTE}
    assert all(own.role(role) == plain.role(role) for role in same)
    assert (own.name, own.title, own.paper) == ("mine", plain.title, plain.paper)


def test_or_puts_a_role_on_a_layer_of_its_own(tmp_path):
    text = (
        "extends: iso-13567\ntitle: Our office\npaper: A1\n"
        'layers: {OUR-TEES: {colour: "#112233", aci: 5, pen: 0.35}}\nroles: {main tee: {layer: OUR-TEES}}\n'
    )
    own = load_style(written(tmp_path, "mine.yaml", text))
    assert own.layer(Role.MAIN_TEE).name == "OUR-TEES"
    assert own.role(Role.MAIN_TEE).height == load_style("iso-13567").role(Role.MAIN_TEE).height
    assert (own.title, own.paper) == ("Our office", "A1")


def test_a_file_may_extend_a_file_that_lies_beside_it(tmp_path):
    (tmp_path / "office").mkdir()
    written(tmp_path / "office", "base.yaml", "extends: us-ncs\nroles: {note: {height: 3.0}, caution: {height: 3.0}}\n")
    path = written(tmp_path / "office", "job.yaml", "extends: base.yaml\nroles: {note: {height: 4.0}}\n")
    own = load_style(path)
    assert (own.role(Role.NOTE).height, own.role(Role.CAUTION).height) == (4.0, 3.0)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("extends: us-ncs\nroles: {mian tee: {height: 2}}\n", r'own\.yaml:2.*no role "mian tee"(.|\n)*mean "main tee"'),
        ("extends: us-ncs\nroles: {note: {layer: A-ANNO-NOTES}}\n", r'own\.yaml:2.*no layer "A-ANNO-NOTES"'),
        ("extends: us-nsc\n", r'own\.yaml:1.*no style "us-nsc"(.|\n)*Did you mean "us-ncs"'),
        ("extends: own.yaml\n", r"own\.yaml:1.*in a circle: own\.yaml extends own\.yaml"),
        ("extends: gone.yaml\n", r"gone\.yaml"),
        ("extends: us-ncs\nlayers: {NEW: {pen: 0.35}}\n", "the layer has no colour and no aci"),
        ("extends: bs-1192\nlayers: {'A-{roof}-M2_Roof': {colour: '#000000', aci: 7, pen: 0.35}}\n", r"\{roof\}"),
        ("extends: bs-1192\ncodes: {ceiling: 'a b'}\n", "cannot be the name of a layer"),
        ("paper: A3\n", "the style has no title"),
    ],
)
def test_what_is_wrong_with_a_style_that_extends_another_is_told_where_it_stands(tmp_path, text: str, said: str):
    with pytest.raises(InputError, match=said):
        load_style(written(tmp_path, "own.yaml", text))


def test_a_circle_of_several_files_is_told_with_all_of_them(tmp_path):
    written(tmp_path, "a.yaml", "extends: b.yaml\n")
    written(tmp_path, "b.yaml", "extends: c.yaml\n")
    written(tmp_path, "c.yaml", "extends: a.yaml\n")
    with pytest.raises(InputError, match=r"c\.yaml:1.*a\.yaml extends b\.yaml extends c\.yaml extends a\.yaml"):
        load_style("a.yaml", tmp_path)
