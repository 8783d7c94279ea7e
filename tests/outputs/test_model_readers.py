"""The readers of STEP and STL, on files written out here: they must see what is wrong."""

import struct
from pathlib import Path

import pytest
from collarwright.outputs.readback import step, stl

Point = tuple[float, float, float]

CUBE = [
    (0, 0, 0), (1, 0, 0), (1, 1, 0), (0, 1, 0),
    (0, 0, 1), (1, 0, 1), (1, 1, 1), (0, 1, 1),
]  # fmt: skip
FACES = [
    (0, 2, 1), (0, 3, 2), (4, 5, 6), (4, 6, 7), (0, 1, 5), (0, 5, 4),
    (1, 2, 6), (1, 6, 5), (2, 3, 7), (2, 7, 6), (3, 0, 4), (3, 4, 7),
]  # fmt: skip


def cross(a: Point, b: Point) -> Point:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def solid(file: Path, faces: list[tuple[int, int, int]], move: float = 0, size: float = 10) -> Path:
    """Write a cube of ``size`` mm, or what some of its faces make of it."""
    data = b"a cube".ljust(80) + struct.pack("<I", len(faces))
    for face in faces:
        points = [tuple(size * c + move for c in CUBE[k]) for k in face]
        sides = [tuple(b - a for a, b in zip(points[0], p, strict=True)) for p in points[1:]]
        data += struct.pack("<12fH", *cross(*sides), *(c for p in points for c in p), 0)  # type: ignore[arg-type]
    file.write_bytes(data)
    return file


def test_a_cube_is_closed_and_has_its_volume(tmp_path: Path) -> None:
    mesh = stl.read(solid(tmp_path / "a.stl", FACES, move=5))
    assert (mesh.header, mesh.watertight, mesh.bodies, mesh.normals_agree) == (
        "a cube",
        True,
        1,
        True,
    )
    assert len(mesh.vertices) == 8
    assert mesh.volume == pytest.approx(1000)
    assert mesh.center == pytest.approx((10, 10, 10))
    assert mesh.box == ((5, 5, 5), (15, 15, 15))


def test_a_missing_or_turned_triangle_is_seen(tmp_path: Path) -> None:
    assert not stl.read(solid(tmp_path / "a.stl", FACES[1:])).watertight
    turned = [FACES[0][::-1], *FACES[1:]]
    assert not stl.read(solid(tmp_path / "b.stl", turned)).watertight
    inside_out = stl.read(solid(tmp_path / "c.stl", [face[::-1] for face in FACES]))
    assert inside_out.watertight
    assert inside_out.volume == pytest.approx(-1000)
    flat = [*FACES, (0, 0, 1), (0, 1, 0)]
    assert not stl.read(solid(tmp_path / "d.stl", flat)).watertight


def test_bodies_are_counted(tmp_path: Path) -> None:
    a, b = (solid(tmp_path / f"{move}.stl", FACES, move).read_bytes() for move in (0, 20))
    both = tmp_path / "both.stl"
    both.write_bytes(a[:80] + struct.pack("<I", 24) + a[84:] + b[84:])
    mesh = stl.read(both)
    assert (mesh.bodies, mesh.watertight, len(mesh.faces)) == (2, True, 24)
    assert mesh.volume == pytest.approx(2000)


def test_a_stored_normal_that_points_the_other_way_is_seen(tmp_path: Path) -> None:
    file = solid(tmp_path / "a.stl", FACES)
    data = bytearray(file.read_bytes())
    data[84:96] = struct.pack("<3f", 0, 0, 1)  # the first triangle is the cube's lower face
    file.write_bytes(data)
    assert not stl.read(file).normals_agree


@pytest.mark.parametrize("cut", [1, 50, 700])
def test_an_stl_file_cut_short_is_refused(tmp_path: Path, cut: int) -> None:
    file = solid(tmp_path / "a.stl", FACES)
    file.write_bytes(file.read_bytes()[:-cut])
    with pytest.raises(stl.StlError, match=r"a\.stl"):
        stl.read(file)


def test_a_coordinate_that_is_no_number_is_refused(tmp_path: Path) -> None:
    file = solid(tmp_path / "a.stl", FACES)
    data = bytearray(file.read_bytes())
    data[96:100] = struct.pack("<f", float("nan"))
    file.write_bytes(data)
    with pytest.raises(stl.StlError, match="no number"):
        stl.read(file)


# One product with one round hole's surface, placed once; written by hand after ISO 10303-21 and
# AP 214, with a comment, a line break in a string, and small freedoms that a writer may take.
BODY = """
#1=APPLICATION_CONTEXT('');
#2=PRODUCT_CONTEXT('',#1,'mechanical');
#3=PRODUCT('peg','peg','',(#2));
#4=PRODUCT_DEFINITION_FORMATION('','',#3);
#5=PRODUCT_DEFINITION('','',#4,$); /* #5 = not this */
#6=PRODUCT_DEFINITION_SHAPE('','',#5);
#7=SHAPE_DEFINITION_REPRESENTATION(#6,#8);
#8=ADVANCED_BREP_SHAPE_REPRESENTATION('',(#9,#20),#90);
#9=AXIS2_PLACEMENT_3D('',#10,#11,#12);
#10=CARTESIAN_POINT('',(0.,0.,0.));
#11=DIRECTION('',(0.,0.,1.));
#12=DIRECTION('',(1.,0.,0.));
#20=MANIFOLD_SOLID_BREP('',#21);
#21=CLOSED_SHELL('',(#22));
#22=ADVANCED_FACE('',(#23),#24,.T.);
#23=VERTEX_POINT('it''s; here',#25);
#24=CYLINDRICAL_SURFACE('',#26,2.5E0);
#25=CARTESIAN_POINT('',(-1.,2.,3.5));
#26=AXIS2_PLACEMENT_3D('',#27,#28,#12);
#27=CARTESIAN_POINT('',(4.,5.,6.));
#28=DIRECTION('',(0.,0.,-2.));
#30=PRODUCT('whole','whole','',(#2));
#31=PRODUCT_DEFINITION_FORMATION('','',#30);
#32=PRODUCT_DEFINITION('','',#31,$);
#33=PRODUCT_DEFINITION_SHAPE('','',#32);
#34=SHAPE_DEFINITION_REPRESENTATION(#33,#35);
#35=SHAPE_REPRESENTATION('',(#9,#36),#90);
#36=AXIS2_PLACEMENT_3D('',#37,#38,#39);
#37=CARTESIAN_POINT('',(100.,0.,7.));
#38=DIRECTION('',(0.,-1.,0.));
#39=DIRECTION('',(1.,0.,0.));
#40=CONTEXT_DEPENDENT_SHAPE_REPRESENTATION(#41,#43);
#41=(REPRESENTATION_RELATIONSHIP('','',#8,#35)
 REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION(#42) SHAPE_REPRESENTATION_RELATIONSHIP());
#42=ITEM_DEFINED_TRANSFORMATION('','',#9,#36);
#43=PRODUCT_DEFINITION_SHAPE('','',#44);
#44=NEXT_ASSEMBLY_USAGE_OCCURRENCE('1','peg-1','',#32,#5,$);
#50=COLOUR_RGB('',0.25,0.5,0.75);
#51=FILL_AREA_STYLE_COLOUR('',#50);
#52=FILL_AREA_STYLE('',(#51));
#53=SURFACE_STYLE_FILL_AREA(#52);
#54=SURFACE_SIDE_STYLE('',(#53));
#55=SURFACE_STYLE_USAGE(.BOTH.,#54);
#56=PRESENTATION_STYLE_ASSIGNMENT((#55));
#57=STYLED_ITEM('',(#56),#20);
#58=MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',(#57),#90);
#90=(GEOMETRIC_REPRESENTATION_CONTEXT(3) GLOBAL_UNIT_ASSIGNED_CONTEXT((#91)));
#91=(LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT(.MILLI.,.METRE.));
"""


def written(folder: Path, body: str = BODY, title: str = "a peg") -> Path:
    file = folder / "peg.step"
    file.write_text(
        f"ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('{title}'),'2;1');\n"
        "FILE_NAME('peg.step','2001-02-03T04:05:06',(''),(''),'','','');\n"
        f"FILE_SCHEMA(('X'));\nENDSEC;\nDATA;{body}ENDSEC;\nEND-ISO-10303-21;\n",
        "ascii",
    )
    return file


def test_a_step_file_written_by_hand_is_read(tmp_path: Path) -> None:
    file = step.read(written(tmp_path))
    assert (file.description, file.stamp) == ("a peg", "2001-02-03T04:05:06")
    assert (file.length_units, file.assemblies) == (("MILLI METRE",), ("whole",))
    assert file.product("peg") == step.Product(
        name="peg",
        color=(0.25, 0.5, 0.75),
        solids=1,
        low=(-1, 2, 3.5),
        high=(-1, 2, 3.5),
        # its one corner is 2.5 mm below (4, 5, 6), along the axis that points down
        cylinders=(step.Cylinder((4, 5, 6), (0, 0, -1), 2.5, 2.5, 2.5),),
        volume=0.0,  # a surface along z alone encloses nothing
    )
    (placed,) = file.placed
    assert (placed.name, placed.product) == ("peg-1", "peg")
    # x stays x, the part's z is the assembly's -y, so its y is the assembly's z.
    assert placed.at((1, 2, 3)) == (101, -3, 9)


def test_letters_beyond_ascii_are_read(tmp_path: Path) -> None:
    title = r"5 \X2\00B0\X0\C ''\\'' \X2\21160031\X0\\X4\0001F34F\X0\\\X2\00B0"
    assert step.read(written(tmp_path, title=title)).description == "5 °C '\\' №1🍏\\X2\\00B0"


def test_another_unit_is_seen(tmp_path: Path) -> None:
    meters = BODY.replace("SI_UNIT(.MILLI.,.METRE.)", "SI_UNIT($,.METRE.)")
    assert step.read(written(tmp_path, meters)).length_units == ("METRE",)
    inches = BODY.replace("SI_UNIT(.MILLI.,.METRE.)", "CONVERSION_BASED_UNIT('INCH',#1)")
    assert step.read(written(tmp_path, inches)).length_units == ("INCH",)


def test_a_color_that_no_presentation_lists_is_none(tmp_path: Path) -> None:
    unlisted = BODY.replace("REPRESENTATION('',(#57),#90)", "REPRESENTATION('',(),#90)")
    assert step.read(written(tmp_path, unlisted)).product("peg").color is None


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("#25=CARTESIAN_POINT('',(-1.,2.,3.5));", ""),
        ("#25=CARTESIAN_POINT('',(-1.,2.,3.5))", "#25=CARTESIAN_POINT('',(-1.,2.))"),
        ("#24=CYLINDRICAL_SURFACE('',#26,2.5E0)", "#24=CYLINDRICAL_SURFACE('',#26"),
        ("#42=ITEM_DEFINED_TRANSFORMATION('','',#9,", "#42=ITEM_DEFINED_TRANSFORMATION('','',#36,"),
        ("#3=PRODUCT('peg'", "#3=PRODUKT('peg'"),
        ("2.5E0", "2.5?"),
    ],
)  # fmt: skip
def test_a_damaged_step_file_is_refused(tmp_path: Path, old: str, new: str) -> None:
    assert old in BODY
    with pytest.raises(step.StepError):
        step.read(written(tmp_path, BODY.replace(old, new)))


def test_half_a_step_file_is_refused(tmp_path: Path) -> None:
    file = written(tmp_path)
    file.write_text(file.read_text("ascii")[:-30], "ascii")
    with pytest.raises(step.StepError, match=r"peg\.step is not a whole"):
        step.read(file)
