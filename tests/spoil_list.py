"""What ``spoil.py`` breaks: pieces of text of the program, what is put there, and who must see it.

A line is chosen because a slip in it would be cut into wood or told to a builder. Add one for each
new check, output or unit: a text that stands in its file once, and the narrowest test.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Spoil:
    """One break: ``old`` stands once in ``file`` and becomes ``new``; ``test`` must see it.

    A fair catch is a failing run (pytest's status 1) with a failed assertion in it. Where the
    program itself notices, ``error`` says what it raises.
    """

    name: str
    file: str
    old: str
    new: str
    test: str
    error: str = ""


def _in(file: str, tests: str, *spoils: tuple[str, ...]) -> list[Spoil]:
    """Return the spoils of a file that a file of tests must see.

    Each is a name, the old text, the new one; then, if need be, the one test that is asked
    (the whole file takes long, or another test sees it first) and the error that is raised.
    """
    found: list[Spoil] = []
    for name, old, new, *rest in spoils:
        test, error = (*rest, "", "")[:2]
        found.append(Spoil(name, file, old, new, f"{tests}::{test}" if test else tests, error))
    return found


SPOILS: tuple[Spoil, ...] = (
    # -- solids: these load the CAD kernel, a few seconds each, and so go first
    *_in(
        "geometry/solids/kernel.py",
        "tests/geometry/test_solids.py",
        (
            "solid-bore",
            "hole.diameter, high - low",
            "hole.diameter + 0.5, high - low",
            "test_boards_of_the_two_designs_have_the_volume_worked_out_by_hand",
            "collarwright.geometry.solids.SolidError",
        ),
        (
            "solid-mirrored",
            "(ux, uy, 0.0), (uy, -ux, 0.0)",
            "(-ux, -uy, 0.0), (uy, -ux, 0.0)",
            "test_the_collar_stands_on_the_plane_of_the_lip_at_the_lips_corner",
        ),
    ),
    *_in(
        "geometry/solids/step.py",
        "tests/outputs/test_model.py",
        (
            "step-unit",
            '"write.step.unit", "MM"',
            '"write.step.unit", "INCH"',
            "test_lengths_are_millimeters",
        ),
        (
            "step-color",
            "for part in color)",
            "for part in color[::-1])",
            "test_every_product_has_the_color_of_its_group",
        ),
        (
            "step-name",
            "_name(placed, part.name)",
            "_name(placed, part.product)",
            "test_products_and_their_places_have_our_names",
        ),
    ),
    # -- each check at least once, under the check's own id
    *_in(
        "geometry/judge/checks/lip.py",
        "tests/geometry/test_checks_lip.py",
        ("readings", "READINGS.at_most(where, min(", "READINGS.at_most(where, max("),
        ("lip-square", "LIP_SQUARE.at_most(", "LIP_SQUARE.at_least("),
    ),
    *_in(
        "geometry/judge/checks/stand.py",
        "tests/geometry/test_checks_lip.py",
        ("stand", "- max(-over, start)", "- max(over, start)"),
        ("corner", "* q - radius)", "- radius)"),
    ),
    *_in(
        "geometry/judge/checks/stand.py",
        "tests/geometry/test_checks_seat.py",
        ("lip-flat", "takes - gap, design", "takes + gap, design"),
    ),
    *_in(
        "geometry/judge/checks/seal.py",
        "tests/geometry/test_checks_seat.py",
        ("gasket-pull", "1.0 if steel else 0.0", "0.0 if steel else 1.0"),
        ("plug", "inset - overhang - inner", "inset + overhang - inner"),
        ("plug-height", "bottom < panel.width - SLACK", "bottom > panel.width - SLACK"),
    ),
    *_in(
        "geometry/judge/checks/hold.py",
        "tests/geometry/test_checks_seat.py",
        ("collar-hold", "(own + bond) / tips", "(own - bond) / tips"),
        ("collar-hold-stop", "max(0.0, weight) + PULL", "PULL"),
    ),
    *_in(
        "geometry/judge/checks/hold.py",
        "tests/geometry/test_checks_hinge.py",
        ("hinge-hold", "(moment + pull * lid.front) / leaves", "(moment + pull) / leaves"),
        ("hinge-hold-weight", "lid.weight / leaves / count", "lid.weight / count"),
        ("hinge-hold-limit", "min(1.5, alone)", "alone"),
        ("bolt-block", "+ (hinge.backing or 0.0)", ""),
        ("bolt-kpa", "compression / 1000", "compression / 100"),
    ),
    *_in(
        "geometry/judge/checks/hinge.py",
        "tests/geometry/test_checks_hinge.py",
        ("hinge-fit", "board.width - max(heights), upper", "max(heights), upper"),
        ("hinge-fit-bolt", "(min(heights), lower,", "(min(heights), upper,"),
        ("hinge-fit-washer", "max(least, washer) for", "least for"),
        ("hinge-fit-room", "bottom - cover.top, ", "cover.top - bottom, "),
        ("screw-length", "wood - deep, design", "deep - wood, design"),
    ),
    *_in(
        "geometry/handbook/bolts.py",
        "tests/published/test_bolts.py",
        ("bolt-mode-ii", "- re * (side + main)", "- re * side"),
        ("bolt-mode-iii", "bend * (2 + re)", "bend * (1 + re)"),
        ("bolt-bearing", "16_600 * gravity**1.84", "16_600 * gravity"),
        ("bolt-washer", "washer**2 - hole**2", "washer**2"),
        ("bolt-shares", "used += load / holds", "used = load / holds"),
    ),
    *_in(
        "geometry/handbook/fasteners.py",
        "tests/published/test_fasteners.py",
        ("withdrawal", "WITHDRAWAL_ULTIMATE * gravity**2", "WITHDRAWAL_ULTIMATE * gravity"),
        ("lateral", "known[-1] * diameter**2", "known[0] * diameter**2"),
        ("screw-tip", "length - through - diameter", "length - through"),
    ),
    *_in(
        "geometry/handbook/statics.py",
        "tests/published/test_statics.py",
        ("lid-moment", "- above * math.sin(th)", "+ above * math.sin(th)"),
        ("leaf-levers", "max(levers) / sum(", "min(levers) / sum("),
    ),
    *_in(
        "geometry/judge/checks/seal.py",
        "tests/geometry/test_checks_lid.py",
        ("gasket-seat", "center + half)", "center)"),
        ("skirt", "- swing\n    why", "+ swing\n    why"),
        ("skirt-swing", "design.layout.sealing_z - axis.z", "axis.z"),
    ),
    *_in(
        "geometry/judge/checks/saw.py",
        "tests/geometry/test_checks_lip.py",
        ("saw", "getattr(shop, key) - needed", "needed - getattr(shop, key)"),
    ),
    *_in(
        "geometry/judge/checks/bores.py",
        "tests/geometry/test_checks_bores.py",
        ("bore-entry", "BORE_ENTRY.at_least(", "BORE_ENTRY.at_most("),
        ("bore-cover", "BORE_COVER.at_least(", "BORE_COVER.at_most("),
        ("bore-cover-play", "tap.bore) / 2 - (tap.bore", "tap.bore) / 2 + (tap.bore"),
        ("nut-cover", "max(nut, washer))", "nut + washer)"),
        ("bore-web", "- (tap.bore + other.bore) / 2", "- (tap.bore + other.bore)"),
        ("bore-edge", "min(tap.v, width - tap.v) -", "max(tap.v, width - tap.v) -"),
        ("bore-end", "shank.nut_wrench_circle / 2\n", "shank.nut_wrench_circle\n"),
    ),
    *_in(
        "geometry/judge/checks/shanks.py",
        "tests/geometry/test_checks_shanks.py",
        ("shank-grip", "tap.wall + tap.washers + shank", "tap.wall - tap.washers + shank"),
        ("shank-run", "SHANK_RUN.at_least(", "SHANK_RUN.at_most("),
        ("shank-past-foam", "length - tap.insulation", "length - tap.wall"),
        ("nut-room", "tap.pocket - circle", "circle - tap.pocket"),
    ),
    *_in(
        "geometry/judge/checks/shanks.py",
        "tests/geometry/test_checks_pour.py",
        ("foam-crush", "outer**2 - tap.bore**2", "outer**2"),
    ),
    *_in(
        "geometry/judge/checks/pour_room.py",
        "tests/geometry/test_checks_pour.py",
        ("pour-room", "spout - top, required", "spout + top, required"),
        ("pour-room-depth", "place.depth > out - half", "place.depth > out"),
    ),
    *_in(
        "geometry/judge/checks/fronts.py",
        "tests/geometry/test_checks_shanks.py",
        ("tap-gap", "(tap.outside + other.outside) / 2", "tap.outside / 2"),
        ("handle-gap", "HANDLE_GAP.at_least(", "HANDLE_GAP.at_most("),
        ("handle-gap-height", "two[1] and two[0]", "two[1] or two[0]"),
    ),
    *_in(
        "geometry/judge/checks/wrench.py",
        "tests/geometry/test_wrench_swing.py",
        ("wrench-swing", "360.0 / holes + 5.0", "360.0 / holes - 5.0"),
        ("wrench-swing-edge", "psi, 180.0 - psi", "psi, 180.0 + psi"),
        ("wrench-swing-disc", "radius + wrench.half_width\n", "radius\n"),
    ),
    *_in(
        "geometry/judge/checks/lid.py",
        "tests/geometry/test_checks_lid.py",
        ("lid-wall", "LID_WALL.at_most(", "LID_WALL.at_least("),
        ("lid-ceiling", "LID_CEILING.at_most(", "LID_CEILING.at_least("),
        ("lid-first-contact", "layout.lip.depth + project.room.behind", "project.room.behind"),
    ),
    *_in(
        "geometry/judge/checks/lid_edges.py",
        "tests/geometry/test_checks_lid_edges.py",
        ("lid-back", "LID_BACK.at_least(", "LID_BACK.at_most("),
        ("lid-back-axis-ahead", "max(0.0, min(2.0, behind))", "min(2.0, behind)"),
        (
            "lid-back-taps",
            "(*collar_back(project, layout), *_back_taps(design, face))",
            "collar_back(project, layout)",
        ),
        ("lid-front", "LID_FRONT.at_least(", "LID_FRONT.at_most("),
        ("lid-front-side", "lid.under_z - skirt, high)", "lid.under_z + skirt, high)"),
        ("lid-front-rise", "radius * radius - place * place", "radius * radius"),
        ("lid-front-over", "    out = overhang - over\n", "    out = overhang\n"),
    ),
    *_in(
        "geometry/judge/checks/fronts.py",
        "tests/geometry/test_checks_keep_out.py",
        ("tap-gap-keep-out", "        gaps += _to_places(design, tap, kept)\n", ""),
        ("handle-gap-keep-out", "place.beside(each.u) - each.width / 2", "place.beside(each.u)"),
    ),
    *_in(
        "geometry/judge/checks/wrench.py",
        "tests/geometry/test_checks_keep_out.py",
        ("wrench-slab", "tap.cover + shank.flange_thickness):", "0.0):"),
        ("wrench-arc-told", "best = FreeArc(reached % 360.0,", "best = FreeArc(start % 360.0,"),
    ),
    # -- the verdict
    *_in(
        "geometry/judge/finding.py",
        "tests/geometry/test_judge.py",
        ("slack", "SLACK = 1e-6", "SLACK = 1e-2"),
        ("slack-sign", "margin < -SLACK", "margin < SLACK"),
        ("at-most", "required - measured", "measured - required"),
        ("tight", "tolerance - SLACK", "-tolerance"),
        (
            "advice-decides",
            'for finding in findings if finding.weight == "must"}',
            "for finding in findings}",
        ),
    ),
    *_in(
        "geometry/judge/design.py",
        "tests/geometry/test_judge.py",
        ("limit-ignored", ".get(check_id, default)", '.get("", default)'),
    ),
    # -- lip, frame, taps, lining, outlines, screws, lid
    *_in(
        "geometry/shape/lip.py",
        "tests/geometry/test_lip.py",
        (
            "lip-stress",
            "return 1 / (_doubled(",
            "return 1 / abs(_doubled(",
            "test_six_readings_are_fitted_like_an_independent_optimizer_fits_them",
        ),
        (
            "lip-diagonals-swapped",
            "(0, 2), (1, 3))",
            "(1, 3), (0, 2))",
            "test_the_printed_lip_has_the_printed_angles",
        ),
        (
            "lip-closing-diagonal",
            "diagonals[k % 2]",
            "diagonals[(k + 1) % 2]",
            "test_each_closing_change_alone_closes_the_figure",
        ),
        (
            "lip-repeated",
            "sum(each) / len(each)",
            "max(each)",
            "test_of_a_repeated_reading_the_mean_counts_and_the_spread_is_kept",
        ),
        (
            "lip-tape",
            "> 2 * tape",
            "> 3 * tape",
            "test_opposite_sides_may_differ_by_twice_the_tape",
        ),
    ),
    *_in(
        "geometry/shape/frame.py",
        "tests/geometry/test_frame.py",
        ("miter", "90 - angle / 2", "angle / 2"),
        ("short-point", "- inner_left - inner_right", "- 2 * inner_left"),
        (
            "overhang",
            "return moved_out(base, over)",
            "return moved_out(base, tuple(-o for o in over))",
        ),
        ("overhang-at-corner", "direction, lip.corners[j]", "direction, lip.corners[i]"),
        ("board-volume", "left -= (high - low)", "left += (high - low)"),
        ("board-place", "ux * u - uy * inward", "ux * u + uy * inward"),
    ),
    *_in(
        "geometry/shape/lip.py",
        "tests/geometry/test_frame.py",
        (
            "corners-mirrored",
            'left", "front-right", "back-right", "back-left")',
            'right", "front-left", "back-left", "back-right")',
        ),
    ),
    *_in(
        "geometry/shape/plane.py",
        "tests/geometry/test_frame.py",
        (
            "moved-out",
            "+ uy * distance_out, corners[i][1] - ux",
            "+ uy * distance_out, corners[i][1] + ux",
        ),
    ),
    *_in(
        "geometry/shape/taps.py",
        "tests/geometry/test_taps.py",
        ("tap-mirrored", "board.long_point / 2 + position", "board.long_point / 2 - position"),
        ("tap-height", "board.width / 2 if", "board.width / 2 + 0.5 if"),
        ("tap-numbering", "    found.sort()\n", "    found.sort(reverse=True)\n"),
        ("tap-off-center", "(i - (count - 1) / 2)", "(i - count / 2)"),
        ("pocket-default", "if size > circle:", "if size < circle:"),
        ("clamped-over-foam", 'project.foam.pocket == "none"', 'project.foam.pocket != "none"'),
    ),
    *_in(
        "geometry/shape/lining.py",
        "tests/geometry/test_lining.py",
        ("panel-start", "start=ends[0]", "start=ends[1]"),
        ("panel-order", 'order == "front-back"', 'order != "front-back"'),
        ("panel-sharp", "thickness * max(0.0, math.cos", "thickness * min(0.0, math.cos"),
        ("panel-sin", "thickness / math.sin(theta)", "thickness * math.sin(theta)"),
        ("panel-holes", "board.inner_left + panel.start", "board.inner_left"),
        (
            "passage-mirrored",
            "u=board.long_point / 2 + asked.offset,\n            v=asked.height",
            "u=board.long_point / 2 - asked.offset,\n            v=asked.height",
        ),
    ),
    *_in(
        "geometry/shape/contour.py",
        "tests/geometry/test_contour.py",
        (
            "contour-segment",
            "angle - math.sin(angle)",
            "angle + math.sin(angle)",
            "test_area_of_a_closed_line",
        ),
        (
            "contour-turn",
            "else:\n            rings.append((numbers[0], Ring(loop, there)))",
            "else:\n            outer.append(Ring(loop, there))",
            "test_a_single_case",
        ),
    ),
    *_in(
        "geometry/shape/screws.py",
        "tests/geometry/test_lining.py",
        ("pilot-depth", "PILOT_DEPTH_SHARE = 2 / 3", "PILOT_DEPTH_SHARE = 3 / 2"),
        (
            "pilot-wood",
            '"pilot_hardwood" if hard else "pilot_softwood"',
            '"pilot_softwood" if hard else "pilot_hardwood"',
        ),
        ("pilot-face", 'face="inner"', 'face="outer"'),
        ("bolt-hole", "hinge.bolt + BOLT_HOLE_OVER", "hinge.bolt"),
    ),
    *_in(
        "geometry/shape/lid.py",
        "tests/geometry/test_checks_lid.py",
        ("lid-peak", "(best_deg - phase) % 360", "(best_deg + phase) % 360"),
        ("lid-overhang", "else -over_front", "else over_front"),
        ("hinge-height", "height + hinge.axis_above", "height - hinge.axis_above"),
        ("lid-side-skirts", "else max(right, left),", "else right,"),
    ),
    *_in(
        "geometry/shape/lid.py",
        "tests/geometry/test_checks_lid_edges.py",
        ("lid-slab-behind", "box(axis.y, back, under, top)", "box(axis.y + 5, back, under, top)"),
        (
            "lid-plug-behind",
            "box(front, rear, under - self.plug, under)",
            "box(front, rear, under, under + self.plug)",
        ),
    ),
    *_in(
        "geometry/shape/rear.py",
        "tests/geometry/test_checks_lid_edges.py",
        ("rear-cover", "face + cover.thickness", "face"),
        ("rear-leaf", "face + hinge.leaf_thickness", "face"),
        ("rear-foam", "within - panel.thickness", "within"),
    ),
    *_in(
        "geometry/shape/swing.py",
        "tests/geometry/test_swing.py",
        (
            "swing-contact",
            "(along, -along):",
            "(along,):",
            "test_a_corner_first_meets_a_face_below_the_axis",
        ),
        ("swing-facing", "gap = -edge.offset - radius", "gap = -edge.offset"),
        (
            "swing-depth",
            "found += [half - middle, -half - middle]",
            "found += []",
            "test_a_corner_is_deepest_where_two_faces_are_equally_near",
        ),
        ("swing-end", "for th in (0.0, sweep):", "for th in (0.0,):"),
        (
            "swing-left-out",
            "max(0.0, best.nearest.gap)",
            "best.nearest.gap",
            "test_a_deeper_overlap_behind_a_shallow_one_is_found",
        ),
    ),
    *_in(
        "geometry/shape/envelope.py",
        "tests/geometry/test_envelope.py",
        ("envelope-lean", "y + half * cos - long * sin", "y + half * cos + long * sin"),
        ("envelope-cover", "inside = tap.cover - tap.wall", "inside = -tap.wall"),
    ),
    *_in(
        "geometry/shape/keep_out.py",
        "tests/geometry/test_envelope.py",
        ("keep-out-depth", "self.depth > out", "self.depth >= 0 * out"),
        ("keep-out-disc", "            low = high = v\n", "            low, high = v, v + 1\n"),
    ),
    # -- units, build files, catalogues
    *_in(
        "params/units.py",
        "tests/params/test_units.py",
        ("unit-inch", "inch = 25.4 * mm", "inch = 25.5 * mm"),
        ("unit-psi", "psi = lbf / inch ** 2", "psi = lbf / cm ** 2"),
        ("unit-degf", "233.15 + 200 / 9", "233.15"),
        ("unit-fraction", "or 0) + Fraction(over", "or 1) * Fraction(over"),
        ("unit-sign", '-1.0 if match["sign"]', '1.0 if match["sign"]'),
        ("unit-feet", '"foot", "mm") + convert', '"foot", "mm") - convert'),
        (
            "unit-printed",
            "/ 25.4 * parts)",
            "/ 25.4 * parts + 0.5)",
            "test_lengths_are_printed_as_the_trade_does",
        ),
        ("comma", "raise _comma(clean)", "raise UnitError(WORDS[kind])"),
    ),
    *_in(
        "params/values.py",
        "tests/params/test_reading.py",
        (
            "bare-number",
            'raise problem(f"{WORDS[self.kind]}, in quotes", self.example)',
            "return float(str(value))",
            "test_a_bad_file_is_refused_with_its_message",
        ),
        (
            "absurd-size",
            "if not self.low <= found <= self.high",
            "if not found <= self.high",
            "test_a_bad_file_is_refused_with_its_message",
        ),
    ),
    *_in(
        "params/reading/lines.py",
        "tests/params/test_reading.py",
        (
            "given-twice",
            "Twice(path, sort, line, old[1],",
            "Twice(path, sort, line, line,",
            "test_a_bad_file_is_refused_with_its_message",
        ),
    ),
    *_in(
        "params/reading/lines.py",
        "tests/params/test_document.py",
        (
            "line-of-a-key",
            "line = node.start_point.row + 1\n        old",
            "line = node.start_point.row\n        old",
        ),
    ),
    *_in(
        "params/reading/document.py",
        "tests/params/test_document.py",
        (
            "byte-order-mark",
            'decode("utf-8-sig")',
            'decode("utf-8")',
            "test_byte_order_mark_and_line_ends_change_nothing",
        ),
        (
            "huge-file",
            "if len(raw) > MAX_BYTES:",
            "if len(raw) < 0:",
            "test_what_is_no_build_file_is_refused",
        ),
    ),
    *_in(
        "params/reading/tables.py",
        "tests/params/test_reading.py",
        (
            "nearest-key",
            "names, n=1, cutoff=0.6)",
            "names, n=1, cutoff=0.99)",
            "test_a_bad_file_is_refused_with_its_message",
        ),
    ),
    *_in(
        "params/reading/__init__.py",
        "tests/params/test_reading.py",
        (
            "order-of-lines",
            'each.line or float("inf")',
            "-(each.line or 0)",
            "test_problems_come_in_the_order_of_the_lines",
        ),
    ),
    *_in(
        "params/reading/cross.py",
        "tests/params/test_reading.py",
        (
            "count-and-positions",
            "row.count is not None and row.positions is not None:",
            "row.count is None and row.positions is not None:",
            "test_a_bad_file_is_refused_with_its_message",
        ),
    ),
    *_in(
        "params/catalogue/__init__.py",
        "tests/params/test_catalogue.py",
        (
            "near-ids",
            "marks.append((-mark, known))",
            "marks.append((mark, known))",
            "test_near_ids",
        ),
    ),
    *_in(
        "params/catalogue/__init__.py",
        "tests/params/test_catalogue_file.py",
        ("beside-replaces", "return rows | own", "return own | rows"),
    ),
    *_in(
        "params/catalogue/csv_file.py",
        "tests/params/test_catalogue_file.py",
        (
            "beside-keeps",
            "figure = old.figures.get(column.name)",
            "figure = None",
            "test_a_replaced_row_keeps_what_the_file_does_not_name",
            "collarwright.params.problem.BuildFileError",
        ),
        ("catalogue-range", "and column.low <= value <= column.high", "and value <= column.high"),
        ("catalogue-low-high", "if not low <= value <= high:", "if not low <= high:"),
    ),
    # -- flat views, templates, cut files, summary, command line
    *_in(
        "geometry/shape/sheet.py",
        "tests/geometry/test_sheet.py",
        (
            "sheet-inner-edge",
            "(board.inner_left, long - board.inner_right)",
            "(board.inner_left, long - board.inner_left)",
        ),
        ("sheet-bore-y", "y=hole.v,", "y=hole.v + 0.5,"),
        ("sheet-passage-layer", '"passage": "BORE"', '"passage": "POCKET"'),
        ("sheet-reference", '(101.6, "4 in")', '(100.6, "4 in")'),
    ),
    *_in(
        "outputs/templates/__init__.py",
        "tests/outputs/test_templates.py",
        (
            "template-mirrored",
            "pages = template(sheet,",
            "around = tuple(replace(each, x=sheet.length - each.x) for each in sheet.circles)\n"
            "    pages = template(replace(sheet, circles=around),",
            "test_the_template_reads_back[passage-a4]",
        ),
        (
            "template-inner-holes",
            'hole.face == "inner"',
            'hole.face == "outer"',
            "test_holes_from_the_inner_face_are_left_out",
        ),
    ),
    *_in(
        "outputs/paper/pdf.py",
        "tests/outputs/test_templates.py",
        (
            "template-scale",
            "POINTS = 72 / 25.4",
            "POINTS = 72 / 25",
            "test_every_page_is_that_paper[a4]",
        ),
        (
            "template-scaling-flag",
            '"PrintScaling", "None"',
            '"PrintScaling", "AppDefault"',
            "test_the_viewer_is_told_not_to_scale_and_all_fonts_are_inside",
        ),
    ),
    *_in(
        "outputs/templates/furniture.py",
        "tests/outputs/test_templates.py",
        (
            "template-bar",
            '("check 100 mm", 100.0)',
            '("check 100 mm", 99.5)',
            "test_every_page_has_bars_both_ways_and_says_what_it_is[three taps]",
        ),
        (
            "template-warnings",
            "    if job.warnings:\n",
            "    if not job.warnings:\n",
            "test_failures_stand_large_on_every_page",
        ),
    ),
    *_in(
        "outputs/templates/tiles.py",
        "tests/outputs/test_template_tiles.py",
        (
            "template-band",
            "span[1] > seam - BAND / 2 + 1e-6",
            "span[1] > seam + 1e-6",
            "test_a_sliver_that_cannot_be_avoided_is_as_broad_as_it_can_be",
        ),
    ),
    *_in(
        "outputs/place.py",
        "tests/outputs/test_place.py",
        (
            "place-ours",
            'return {MANIFEST, *(str(entry["path"]) for entry in data["files"])}',
            "return {MANIFEST}",
            "test_what_an_earlier_run_wrote_goes_and_foreign_files_stay",
            "collarwright.outputs.unfit.PlaceError",
        ),
        (
            "place-foreign",
            "    shutil.copy2(old, target, follow_symlinks=False)\n",
            "",
            "test_what_an_earlier_run_wrote_goes_and_foreign_files_stay",
        ),
        (
            "place-in-the-way",
            "if target.exists() or in_the_way:",
            "if in_the_way:",
            "test_a_foreign_file_where_ours_must_go_is_refused_and_untouched",
        ),
        (
            "place-leftovers-of-others",
            "[a-z0-9_]{{8}}",
            ".*",
            "test_what_belongs_to_a_folder_with_a_longer_name_is_not_ours",
        ),
        (
            "place-long-name",
            "if len(name) <= LONGEST else",
            "if len(name) <= 255 else",
            "test_a_name_as_long_as_the_file_system_allows",
            "collarwright.outputs.unfit.PlaceError",
        ),
        (
            "place-modes",
            "shutil.copystat(out / path, new / path)",
            "shutil.copystat(out / path, new / path) if False else None",
            "test_folders_of_foreign_files_keep_their_mode_and_the_empty_ones_stay",
        ),
        (
            "place-unreadable",
            "os.walk(out, onerror=_raise)",
            "os.walk(out)",
            "test_a_folder_that_cannot_be_looked_into_is_named_and_not_lost",
        ),
        (
            "place-made-on-the-way",
            "for folder in () if done else missing:",
            "for folder in ():",
            "test_folders_made_on_the_way_to_a_name_that_cannot_be_are_gone",
        ),
        (
            "place-two-steps",
            "        _swap(new, out)\n    except",
            "        shutil.rmtree(out)\n        new.rename(out)\n    except",
            "test_killed_at_any_moment_the_old_tree_or_the_new_one_is_there",
        ),
    ),
    *_in(
        "params/catalogue/csv_file.py",
        "tests/params/test_fuzz_tables.py",
        (
            "csv-quotes",
            "except csv.Error as error:",
            "except ZeroDivisionError as error:",
            "test_any_catalogue_file_is_used_or_refused",
            "_csv.Error",
        ),
        (
            "csv-hidden",
            'return visible(text if len(text) <= 60 else text[:57] + "...")',
            "return text",
            "test_any_catalogue_file_is_used_or_refused",
            "collarwright.params.problem.BuildFileError",
        ),
    ),
    *_in(
        "params/reading/cross.py",
        "tests/params/test_worst_files.py",
        (
            "most-sticks",
            "if len(sticks) > MOST_STICKS:",
            "if len(sticks) > MOST_STICKS + 1:",
            "test_every_list_is_as_long_as_it_may_be",
        ),
        (
            "most-vessels",
            "if total > MOST_VESSELS:",
            "if total > MOST_VESSELS + 1:",
            "test_kegs_are_counted_over_all_rows",
        ),
    ),
    *_in(
        "outputs/stops.py",
        "tests/outputs/test_place.py",
        (
            "stop-put-off",
            "        came.append(number)\n",
            "        raise Stop(number)\n",
            "test_a_stop_during_the_exchange_waits_until_it_is_done",
        ),
    ),
    *_in(
        "outputs/unfit.py",
        "tests/outputs/test_failing_disk.py",
        (
            "unfit-mounts",
            "if point.is_relative_to(real):",
            "if point == real:",
            "test_dir_that_is_read_only_or_a_mount_or_has_one_in_it",
        ),
    ),
    *_in(
        "outputs/cli.py",
        "tests/outputs/test_broken_streams.py",
        (
            "cli-full",
            "    return WRONG_INPUT\n\n\ndef _last_words",
            "    return OK\n\n\ndef _last_words",
            "test_a_full_disk_behind_stdout",
        ),
        (
            "cli-closed",
            "            os.open(os.devnull, os.O_RDWR)",
            "            pass",
            "test_what_goes_to_closed_streams_does_not_go_into_files",
        ),
        (
            "cli-stop",
            "return 128 + number",
            "return number",
            "test_a_stop_is_answered",
        ),
    ),
    *_in(
        "outputs/cut.py",
        "tests/outputs/test_cut.py",
        (
            "dxf-unit-tag",
            '{"mm": 4, "in": 1}',
            '{"mm": 1, "in": 4}',
            "test_units_are_stated_and_kept",
        ),
        ("dxf-inch", "1 / 25.4}", "1 / 25}", "test_units_are_stated_and_kept"),
        (
            "dxf-layer",
            '{"layer": circle.layer}',
            '{"layer": "OUTLINE"}',
            "test_units_are_stated_and_kept",
        ),
        (
            "dxf-closed",
            'lwpolyline(points, format="xyb", close=True',
            'lwpolyline(points, format="xyb", close=False',
            "test_files_read_back_right[everything-mm-R2000]",
        ),
        (
            "dxf-bore",
            "circle.diameter / 2 * scale",
            "(circle.diameter + 0.5) / 2 * scale",
            "test_units_are_stated_and_kept",
        ),
        (
            "dxf-mirrored",
            "return _rounded(x * scale)",
            "return _rounded((sheet.length - x) * scale)",
            "test_units_are_stated_and_kept",
        ),
        (
            "dxf-bulge",
            "_rounded(v.bulge,",
            "_rounded(-v.bulge,",
            "test_files_read_back_right[pockets that overlap-mm-R2000]",
        ),
    ),
    *_in(
        "outputs/verify/__init__.py",
        "tests/outputs/test_verify.py",
        (
            "read-back-ignored",
            "    if differences:\n",
            "    if len(differences) > 9999:\n",
            "test_a_build_that_does_not_read_back_ends_with_3_and_leaves_the_folder",
        ),
    ),
    *_in(
        "outputs/verify/__init__.py",
        "tests/outputs/test_readback_spoilt.py",
        (
            "read-back-audit",
            "yield from dxf.audit(path)",
            "yield from ()",
            "test_a_spoilt_file_is_told[DXF, a line type that is not there]",
        ),
        (
            "read-back-paper",
            "show=show, paper=ways,",
            "show=show, paper=None,",
            "test_a_spoilt_file_is_told[PDF, A4 for letter]",
        ),
    ),
    *_in(
        "outputs/verify/told.py",
        "tests/outputs/test_verify_told.py",
        ("told-arc", "% math.tau < abs(sweep)", "% math.tau < 0"),
        ("told-nut", "-(tap.wall + tap.washers)", "-(tap.wall - tap.washers)"),
        (
            "told-name",
            'found.add(f"faucet-{tap.number}")',
            'found.discard(f"faucet-{tap.number}")',
            "test_names_boxes_and_volumes_are_those_that_the_kernel_measures",
        ),
    ),
    *_in(
        "outputs/verify/step.py",
        "tests/outputs/test_readback_spoilt.py",
        (
            "read-back-volume",
            "<= VOLUME_CLOSE * wanted + CLOSE",
            "<= wanted",
            "test_a_spoilt_file_is_told[STEP, wider circles alone]",
        ),
        (
            "read-back-axis",
            "        if off > CLOSE:",
            "        if off > 1e9:",
            "test_a_spoilt_file_is_told[assembly, two taps' nuts swapped]",
        ),
        (
            "read-back-reach",
            "if any(abs(a - b) > CLOSE for",
            "if any(abs(a - b) > 1e9 for",
            "test_a_spoilt_file_is_told[assembly, ring and nut swapped]",
        ),
    ),
    *_in(
        "outputs/verify/stl.py",
        "tests/outputs/test_readback_spoilt.py",
        (
            "read-back-rims",
            "    if strange:\n",
            "    if len(strange) > 99999:\n",
            "test_a_spoilt_file_is_told[STL, bore 0.5 mm off]",
        ),
    ),
    *_in(
        "outputs/verify/glb.py",
        "tests/outputs/test_readback_spoilt.py",
        (
            "read-back-glb-names",
            "sorted(wanted - set(parts))",
            "sorted(wanted - wanted)",
            "test_a_spoilt_file_is_told[GLB, a renamed part]",
        ),
        (
            "read-back-glb-tap",
            "middle, (tap.u, tap.v), short",
            "middle, middle, short",
            "test_a_spoilt_file_is_told[GLB, a nut 0.5 mm off]",
        ),
        (
            "read-back-glb-closed",
            "if not node.closed:",
            "if node.closed is None:",
            "test_a_spoilt_file_is_told[GLB, a missing triangle]",
        ),
    ),
    *_in(
        "outputs/verify/glb.py",
        "tests/outputs/test_model_glb.py",
        ("read-back-glb-box", "low, box.low, BOX_CLOSE", "low, low, BOX_CLOSE"),
        ("read-back-glb-hinge", 'if hung != {"lid"}:', "if len(hung) > 9:"),
    ),
    *_in(
        "outputs/verify/summary.py",
        "tests/outputs/test_readback_spoilt.py",
        (
            "read-back-listing",
            "listing(root, path, found)",
            "listing(root, path, data)",
            "test_a_spoilt_file_is_told[JSON, a wrong length]",
        ),
        (
            "read-back-schema",
            "summary.misfits(found, SCHEMA)",
            "summary.misfits(data, SCHEMA)",
            "test_a_spoilt_file_is_told[JSON, a key gone]",
        ),
    ),
    *_in(
        "outputs/readback/summary.py",
        "tests/outputs/test_readback_spoilt.py",
        (
            "summary-bytes",
            'if entry["bytes"] != len(content):',
            'if entry["bytes"] < 0:',
            "test_a_spoilt_file_is_told[JSON, a wrong length]",
        ),
        (
            "summary-nan",
            "parse_constant=no_number",
            "parse_constant=float",
            "test_a_spoilt_file_is_told[JSON, no number]",
        ),
    ),
    *_in(
        "outputs/readback/pdf.py",
        "tests/outputs/test_readback_spoilt.py",
        (
            "pdf-page-size",
            "wide) <= TOLERANCE and abs",
            "wide) <= 99 or abs",
            "test_a_spoilt_file_is_told[PDF, A4 for letter]",
        ),
    ),
    *_in(
        "outputs/readback/step_volume.py",
        "tests/outputs/test_verify_told.py",
        ("step-volume-arc", "half = bent.turn / pieces / 2", "half = bent.turn / pieces / 3"),
        ("step-volume-plane", "-nx / nz, -ny / nz", "nx / nz, -ny / nz"),
    ),
    *_in(
        "outputs/readback/step_curves.py",
        "tests/outputs/test_verify_told.py",
        ("step-arc-reach", "if way < abs(self.turn):", "if way < 0:"),
    ),
    *_in(
        "outputs/readback/glb.py",
        "tests/outputs/test_model_glb.py",
        ("glb-length", "    if length != len(data):", "    if length > len(data) + 9:"),
        ("glb-frame", "matrix = frame @ _matrix(node)", "matrix = _matrix(node) @ frame"),
    ),
    *_in(
        "outputs/glb.py",
        "tests/outputs/test_model_glb.py",
        ("glb-meters", "METERS = 1e-3", "METERS = 1.0", "test_lengths_are_meters_and_up_is_y"),
        ("glb-up", "(0, 1), (-1, 0)", "(0, -1), (1, 0)", "test_lengths_are_meters_and_up_is_y"),
        ("glb-linear", "/ 1.055) ** 2.4", "/ 1.055) ** 2.2"),
        ("glb-lid", "corners - pin, HINGE", "corners, HINGE"),
    ),
    *_in(
        "geometry/solids/about.py",
        "tests/outputs/test_verify_told.py",
        ("about-leaf", "leaf.u, leaf.top, 0.0)", "leaf.u, leaf.top, 1.0)"),
        ("about-lip", "y, lip.top - lip.depth)", "y, lip.top)"),
        (
            "about-well",
            "z1 + kernel.OVERRUN",
            "z1 - kernel.OVERRUN",
            "",
            "collarwright.geometry.solids.SolidError",
        ),
    ),
    *_in(
        "geometry/solids/palette.py",
        "tests/geometry/test_solids.py",
        (
            "palette-grey",
            '"lip": (0.181, 0.181',
            '"lip": (0.143, 0.114',
            "test_no_two_groups_have_the_same_color_or_the_same_grey",
        ),
    ),
    *_in(
        "params/problem.py",
        "tests/params/test_document.py",
        ("visible-direction", '{"Cc", "Cf", ', '{"Cc", '),
        ("visible-control", '{"Cc", "Cf", ', '{"Cf", '),
    ),
    *_in(
        "outputs/summary.py",
        "tests/outputs/test_summary.py",
        ("summary-uv", '"u_mm": hole.u,', '"u_mm": hole.v,'),
    ),
    *_in(
        "outputs/cli.py",
        "tests/outputs/test_cli.py",
        (
            "exit-status",
            'raise typer.Exit(MUST_FAILS if evaluation.verdict == "fail" else OK)',
            "raise typer.Exit(OK)",
            "test_every_example_ends_with_the_status_written_in_it",
        ),
        (
            "exit-status-of-build",
            "raise typer.Exit(MUST_FAILS if done.evaluation",
            "raise typer.Exit(WRONG_INPUT if done.evaluation",
            "test_failures_hold_back_what_would_be_cut_into_wood",
        ),
        (
            "held-back-hint",
            '" --despite-failures writes it with',
            '" look there, it is',
            "test_failures_hold_back_what_would_be_cut_into_wood",
        ),
    ),
    *_in(
        "outputs/build.py",
        "tests/outputs/test_cli.py",
        (
            "held-back",
            "if failures and not options.despite_failures",
            "if failures and options.despite_failures",
            "test_failures_hold_back_what_would_be_cut_into_wood",
        ),
    ),
    # -- the terminal: progress, color, width, completion, catalogues and keys as text
    *_in(
        "outputs/terminal.py",
        "tests/outputs/test_terminal.py",
        (
            "progress-left-over",
            'self._clever:\n                _write("\\r\\x1b[K")',
            'self._clever:\n                _write("")',
            "test_progress_is_taken_back_when_the_work_fails",
        ),
        (
            "progress-at-once",
            "Timer(after, self._show) if after and",
            "Timer(after, self._show) if not after and",
            "test_what_takes_long_is_told_after_a_while",
        ),
        (
            "progress-too-wide",
            "max(1, columns - 1)",
            "max(1, columns + 1)",
            "test_a_line_of_progress_is_never_longer_than_the_terminal",
        ),
        (
            "color-against-wishes",
            'or os.environ.get("NO_COLOR"):',
            'or os.environ.get("NO_COLOUR"):',
            "test_color_is_left_out_where_it_is_not_wanted",
        ),
        (
            "color-when-dumb",
            '!= "dumb"',
            '!= "dull"',
            "test_color_is_left_out_where_it_is_not_wanted",
        ),
        (
            "problem-too-wide",
            "        WIDTH,\n",
            "        WIDTH + 9,\n",
            "test_problems_fit_and_examples_can_be_copied",
        ),
        (
            "problem-path-broken",
            "break_long_words=False",
            "break_long_words=True",
            "test_a_long_path_stays_whole",
        ),
    ),
    *_in(
        "outputs/text.py",
        "tests/outputs/test_terminal.py",
        (
            "report-unpainted",
            'paint(verdict, f"{HEADINGS',
            'str(f"{HEADINGS',
            "test_color_says_nothing_that_no_word_says",
        ),
    ),
    *_in(
        "outputs/complete.py",
        "tests/outputs/test_completion.py",
        (
            "complete-any-file",
            'elif entry.suffix == ".toml":',
            "else:",
            "test_a_path_of_somebodys_home",
        ),
        ("complete-home", ".expanduser()", "", "test_a_path_of_somebodys_home"),
        (
            "complete-kinds",
            '("model", "cut", "templates")',
            '("model", "cuts", "templates")',
            "test_what_is_offered_is_what_is_taken",
        ),
    ),
    *_in(
        "outputs/catalog.py",
        "tests/outputs/test_catalog_command.py",
        (
            "catalog-inches",
            "mm / 25.4, 3)",
            "mm / 25, 3)",
            "test_fractions_only_where_the_figure_is_one",
        ),
        (
            "catalog-every-fraction",
            "< 0.001:",
            "< 0.5:",
            "test_fractions_only_where_the_figure_is_one",
        ),
        ("catalog-show", 'show == "in" and', 'show == "mm" and', "test_a_catalogue_in_inches"),
        (
            "catalog-csv-high",
            '_high"] = f"{figure.high',
            '_high"] = f"{figure.low',
            "test_the_printed_file_is_read_beside_a_build_file_and_changes_nothing",
        ),
    ),
    *_in(
        "params/reading/examples.py",
        "tests/params/test_examples.py",
        (
            "example-door",
            '"room.door": \'"30 in"\'',
            '"room.door": \'"4 in"\'',
            "test_an_example_is_of_the_size_of_the_thing",
        ),
        (
            "example-diagonal",
            '"lip.front_left_to_back_right": \'"43 3/16 in"\'',
            '"lip.front_left_to_back_right": \'"37 5/8 in"\'',
            "test_together_they_are_a_build_file_that_is_read",
        ),
        (
            "example-table",
            '("count", "spacing", "bore")',
            '("count", "spacing")',
            "test_the_lines_of_a_table_make_it_complete",
        ),
    ),
    *_in(
        "params/reading/tables.py",
        "tests/params/test_examples.py",
        (
            "example-of-its-own-key",
            "example = key.example  #",
            "example = key.usual  #",
            "test_a_wrong_value_is_answered_with_the_example_of_its_own_key",
        ),
    ),
    *_in(
        "params/starter/edit.py",
        "tests/params/test_starter.py",
        (
            "new-comment-kept",
            'return f"{match[1]}{toml_of(question, typed)}{behind}"',
            'return f"{match[1]}{toml_of(question, typed)}"',
            "test_a_change_leaves_comments_order_and_other_keys_alone",
        ),
        (
            "new-read-back",
            "        if new is None or found != wanted:",
            "        if new is None:",
            "test_what_cannot_be_changed_line_by_line_is_refused",
        ),
        (
            "new-header-in-force",
            "    del lines[note:at]\n        _head_in_force(lines, question.table)\n",
            "    del lines[note:at]\n",
            "test_answers_put_in_one_by_one_make_the_text_of_all_of_them",
            "collarwright.params.starter.edit.EditError",
        ),
    ),
    *_in(
        "params/starter/answers.py",
        "tests/params/test_starter.py",
        (
            "new-example-no-answer",
            "not line.rstrip().endswith(EXAMPLE)",
            "line",
            "test_an_example_is_no_answer_and_its_mark_goes_with_it",
        ),
        (
            "new-zero-follows",
            "answered(before, answers) and not is_zero",
            "answered(before, answers) or not is_zero",
            "test_zero_and_what_follows_from_it",
        ),
    ),
    *_in(
        "params/starter/value.py",
        "tests/params/test_starter.py",
        (
            "new-other-sides",
            "{side: found.get(side, rest) for side in SIDES if found.get(side, rest)}",
            "found",
            "test_answers_as_toml_writes_them",
        ),
    ),
    *_in(
        "outputs/new/doubts.py",
        "tests/outputs/test_new_doubts.py",
        (
            "new-digits-swapped",
            "        + digits[n + 1]\n        + digits[n]\n",
            "        + digits[n]\n        + digits[n + 1]\n",
            "test_digits_changed_about",
        ),
        (
            "new-square-diagonal",
            "squared = (width**2 + depth**2) ** 0.5",
            "squared = (width**2 + depth**2) ** 0.5 + 50.8",
            "test_a_diagonal_alone",
        ),
        (
            "new-closing-diagonal",
            "return _cannot(typed, read + change,",
            "return _cannot(typed, read - change,",
            "test_the_second_diagonal_is_held_to_the_other_five",
        ),
        (
            "new-slip-of-100",
            '(100.0, "100 mm")',
            '(90.0, "100 mm")',
            "test_metric_slips",
        ),
        (
            "new-spread",
            "max(some) - min(some) <= 3 * tape",
            "max(some) - min(some) <= 9 * tape",
            "test_repeated_readings_must_agree",
        ),
    ),
    *_in(
        "outputs/new/keeping.py",
        "tests/outputs/test_new.py",
        (
            "new-claims-its-name",
            "if self.fresh and _linked(name, target):",
            "if not self.fresh and _linked(name, target):",
            "test_a_file_that_was_made_meanwhile_is_not_written_over",
        ),
        (
            "new-rights",
            "return 0o666 & ~mask",
            "return 0o600",
            "test_a_file_is_whole_at_every_moment_and_has_ordinary_rights",
        ),
        (
            "new-link",
            "        target = Path(os.path.realpath(self.file))\n        held",
            "        target = self.file\n        held",
            "test_a_link_is_followed_and_stays_one",
        ),
    ),
    *_in(
        "outputs/new/checking.py",
        "tests/outputs/test_new_talk.py",
        (
            "new-bore-stands-in",
            'found["taps.bore"] = "3 mm"',
            "pass",
            "test_what_the_layout_refuses_is_told_at_the_question_that_brought_it",
        ),
        (
            "new-sides-apart",
            "return bare and problem.key in",
            "return not bare and problem.key in",
            "test_sides_far_apart_are_told_and_a_diagonal_cannot_wait",
        ),
    ),
    *_in(
        "outputs/new/talk.py",
        "tests/outputs/test_new_talk.py",
        (
            "new-diagonal-cannot-wait",
            "if question.key == DIAGONALS[0] and self._state().apart:",
            "if question.key == DIAGONALS[0] and not self._state():",
            "test_sides_far_apart_are_told_and_a_diagonal_cannot_wait",
        ),
        (
            "new-later-lever",
            "if check not in self.told and not ahead & set(finding.levers):",
            "if check not in self.told:",
            "test_a_check_that_a_later_answer_may_mend_waits_for_it",
        ),
        (
            "new-same-again",
            "(said == before or",
            "(said != before or",
            "test_a_slip_is_named_at_the_side_and_y_takes_what_was_meant",
        ),
        (
            "new-senseless-goes",
            "for key, value in {**changes, **gone}.items()",
            "for key, value in {**gone, **changes}.items() if value",
            "test_an_answer_that_makes_others_senseless_takes_them_along",
        ),
    ),
    *_in(
        "outputs/new/parts.py",
        "tests/outputs/test_new_talk.py",
        (
            "new-unit-of-the-last-size",
            'each if re.search(r"[a-z\\"\'″′]$", each) else f"{each} {unit[0]}"',
            "each",
            "test_boards_by_id_by_words_and_by_sizes",
        ),
    ),
    *_in(
        "outputs/new/paper.py",
        "tests/outputs/test_new_talk.py",
        (
            "new-theirs-stays",
            "text = edit(self.changed() or self.text,",
            "text = edit(self.text,",
            "test_what_somebody_changed_in_the_file_meanwhile_stays",
        ),
    ),
    # -- vessels in the well: the search, the measuring apart from it, the ways in
    *_in(
        "geometry/plan/packing/places.py",
        "tests/geometry/test_packing.py",
        (
            "packing-gap-to-walls",
            'yield rect.x1 - x - radius, "right"',
            'yield rect.x1 - x, "right"',
            "test_one_gap_to_walls_and_between_vessels",
        ),
        (
            "packing-foot-on-the-step",
            "vessel.foot)][edge] >= -STANDS",
            "0.0)][edge] >= -STANDS",
            "test_a_foot_stands_wholly_on_the_step_or_not_at_all",
        ),
    ),
    *_in(
        "geometry/plan/packing/search.py",
        "tests/published/test_packing_published.py",
        (
            "packing-bound-of-a-sector",
            "part = (a + b) / 2, cos((b - a) / 2)",
            "part = (a + b) / 2, 1.0",
            "test_the_search_alone_never_rules_out_the_proved_best",
        ),
    ),
    *_in(
        "geometry/plan/packing/solve.py",
        "tests/geometry/test_packing.py",
        (
            "packing-open-is-no-proof",
            "elif proof.closed and proof.bound < required - PROOF / 2:",
            "elif proof.closed or proof.bound < np.inf:",
            "test_stopped_early_it_is_not_found_and_never_refused",
        ),
        (
            "packing-tall-behind",
            "if lean < -SLACK:",
            "if lean > SLACK:",
            "test_taller_ones_stand_behind",
        ),
    ),
    *_in(
        "geometry/plan/packing/homes.py",
        "tests/geometry/test_packing.py",
        (
            "packing-obstacle-radius",
            "found.append(Block(box.rect, radius))",
            "found.append(Block(box.rect, 0.0))",
            "test_an_obstacle_s_corner_is_a_point",
        ),
    ),
    *_in(
        "geometry/plan/packing/way.py",
        "tests/geometry/test_vessel_entry.py",
        (
            "entry-comes-down-through-it",
            "high = np.inf if lowering else at.z + disc.top",
            "high = at.z + disc.top",
            "test_under_an_overhang_it_is_slid_and_the_one_in_the_way_comes_later",
        ),
    ),
    *_in(
        "geometry/plan/packing/opening.py",
        "tests/geometry/test_vessel_entry.py",
        (
            "opening-full-width-past-a-nut",
            "half = sqrt(r * r - off * off)",
            "half = 0.0",
            "test_in_the_corner_left_of_a_nut",
        ),
    ),
    # -- the collar as it was built
    *_in(
        "geometry/shape/built.py",
        "tests/geometry/test_built.py",
        (
            "built-second-diagonal",
            "return None if figure is None else distance(figure[1], figure[3])",
            "return None if figure is None else distance(figure[0], figure[2])",
        ),
        ("built-gap", "return thickness / math.sin(cut / 2) * off", "return thickness * off"),
        ("built-mean", "return sum(p[0] for p in c) / 4,", "return c[0][0],"),
        (
            "built-turned",
            "cos, sin = ux * vx + uy * vy, ux * vy - uy * vx",
            "cos, sin = 1.0, 0.0",
            "test_it_is_laid_along_the_middle_of_a_skewed_lip",
        ),
    ),
    *_in(
        "geometry/shape/frame.py",
        "tests/geometry/test_built.py",
        (
            "built-tilt",
            "Corner(name, *point, angle, 90 - cut / 2)",
            "Corner(name, *point, angle, 90 - angle / 2)",
        ),
        (
            "built-moved",
            "(board.over_left + board.over_right - sum(was)) / 2",
            "(board.over_left + board.over_right + sum(was)) / 4",
        ),
    ),
    *_in(
        "geometry/shape/taps.py",
        "tests/geometry/test_built.py",
        (
            "built-bore",
            "u=tap.u if bore.from_left is None else bore.from_left,",
            "u=tap.u,",
            "test_each_bore_is_where_it_was_drilled",
        ),
        (
            "built-plates",
            "wall=real.wall + 2 * built.PLATE_THICKNESS,",
            "wall=real.wall,",
        ),
    ),
    *_in(
        "geometry/judge/checks/lip.py",
        "tests/geometry/test_built.py",
        ("built-closure", "design.required(READINGS.id, 3 * MADE)", "9.0 * MADE"),
    ),
    *_in(
        "geometry/judge/rescue/frame.py",
        "tests/geometry/test_rescue.py",
        (
            "rescue-wrong-corners",
            "pushed = 0 if first < dry.diagonals[0] else 1",
            "pushed = 1 if first < dry.diagonals[0] else 0",
            "test_a_racked_frame_is_pushed_square",
        ),
        (
            "rescue-wrong-end",
            "(tap.u - share * loss - new / 2)",
            "(tap.u + share * loss - new / 2)",
            "test_bores_that_were_measured_shift_with_the_left_end",
        ),
        (
            "rescue-cuts-all",
            "return now if now - alike <= shop.step / 2 else shop.rounded(alike)",
            "return min(now, shop.rounded_down(alike))",
            "test_boards_too_long_for_the_skirt_are_trimmed_alike",
        ),
    ),
    *_in(
        "geometry/judge/rescue/bores.py",
        "tests/geometry/test_rescue.py",
        (
            "rescue-turn-heights",
            "shop.rounded(board.width - other.v)",
            "shop.rounded(other.v)",
            "test_a_board_marked_from_the_wrong_end_is_turned",
        ),
        (
            "rescue-turn-miters",
            "or not tilts_alike or",
            "or",
            "test_a_board_of_unlike_miters_is_not_turned",
        ),
        (
            "rescue-no-plate",
            "needs_plate = 0 <= web < max(tap.bore, size)",
            "needs_plate = False",
            "test_two_bores_side_by_side_want_a_plate",
        ),
    ),
    *_in(
        "geometry/judge/levers.py",
        "tests/geometry/test_rescue.py",
        (
            "rescue-on-paper",
            "not (project.as_built and _is_cut(key))",
            "True",
            "test_what_is_cut_is_not_changed_on_paper",
        ),
    ),
    *_in(
        "geometry/judge/inputs.py",
        "tests/geometry/test_built.py",
        (
            "built-inputs",
            'or (name == "built" and not project.as_built)',
            "",
            "test_what_was_measured_is_an_input_only_as_built",
        ),
    ),
    *_in(
        "outputs/cli.py",
        "tests/outputs/test_check_built.py",
        (
            "built-no-table",
            "if project.built is not None:\n            return as_built",
            "if True:\n            return as_built",
            "test_without_a_built_table_it_says_what_to_write",
        ),
    ),
    # -- covers, cap strips, joints in the corners
    *_in(
        "geometry/shape/cover.py",
        "tests/geometry/test_cover.py",
        ("cover-corner", "x0 + out_x - ux * over_left", "x0 + out_x + ux * over_left"),
        ("cover-square", "if neighbor in cover.sides else 0.0", "if neighbor else 0.0"),
        ("cover-bottom", "bottom = -seal - (", "bottom = seal - ("),
        ("cover-through", "v + diameter / 2 <= cover.top", "v <= cover.top"),
        ("cover-bore-u", "u=hole.u + cover.inner_left", "u=hole.u - cover.inner_left"),
        ("cover-bore-v", "v=hole.v - cover.bottom", "v=hole.v"),
        ("cover-leaf", "cover.top < back.width - SLACK", "cover.top < 0"),
        ("cover-over-body", "if over < -SLACK", "if over < -5"),
        ("cover-lid", "if top > sealing_z + SLACK", "if top > 2 * sealing_z"),
    ),
    *_in(
        "geometry/shape/screws.py",
        "tests/geometry/test_cover.py",
        ("cover-pilot", "board.thickness + cover) - cover", "board.thickness + cover)"),
    ),
    *_in(
        "geometry/judge/checks/bores.py",
        "tests/geometry/test_cover.py",
        ("cover-edge", "yield cover.top - tap.v - half", "yield cover.top - tap.v"),
        ("cover-board", "min(tap.v, up) - tap.bore / 2", "max(tap.v, up) - tap.bore / 2"),
        ("cover-below", "max(0.0, cover.top)", "0.0"),
    ),
    *_in(
        "geometry/shape/seat.py",
        "tests/geometry/test_cap_strip.py",
        ("cap-inset", "(-cap.inset,) * 4", "(cap.inset,) * 4"),
        (
            "cap-inner",
            "self.long_point - self.inner_right, self.width",
            "self.long_point, self.width",
        ),
        ("cap-volume", "self.short_point) / 2 * self.width", "self.long_point) / 2 * self.width"),
    ),
    *_in(
        "geometry/shape/joints.py",
        "tests/geometry/test_joints.py",
        ("joint-wood", "- size.thick * math.sin(h)) / 2", "- size.thick) / 2"),
        ("joint-place", "size.depth / math.tan(h)) / 2", "size.depth) / 2"),
        ("joint-thin", "if wood < LEAST_WOOD", "if wood < 0"),
        ("joint-glue", "2 * (size.depth - GLUE)", "2 * size.depth"),
        ("joint-dowel", "thick = max((d for", "thick = min((d for"),
        ("joint-pitch", "width / DOWEL_PITCH", "width / 200"),
        ("joint-mirrored", "way=(turn * math.sin(h)", "way=(math.sin(h)"),
        ("joint-met", "max(along, up) < clear", "max(along, up) < clear - 1"),
        ("joint-pilots", "    if not lost:\n        return board, ()", "    return board, ()"),
    ),
    *_in(
        "geometry/shape/slot.py",
        "tests/geometry/test_joints.py",
        ("slot-dowel", "math.pi / 4 * self.thick", "math.pi / 2 * self.thick"),
        ("slot-biscuit", "(wedge - rest", "(wedge + rest"),
        ("slot-reach", "deep + side if", "deep - side if"),
    ),
    *_in(
        "geometry/solids/boards.py",
        "tests/outputs/test_cover_files.py",
        (
            "slot-cutter",
            "way * (slot.depth - CUTTER)",
            "way * (slot.depth - CUTTER + 1)",
            "test_all_of_it_reads_back",
            "collarwright.geometry.solids.SolidError",
        ),
    ),
    *_in(
        "outputs/verify/step.py",
        "tests/outputs/test_cover_files.py",
        (
            "verify-slots",
            "yield from _slots(others, slots, made.thickness)",
            "yield from ()",
            "test_a_slot_in_another_place_or_of_another_size_is_seen",
        ),
    ),
    *_in(
        "outputs/readback/dxf.py",
        "tests/outputs/test_cover_files.py",
        (
            "dxf-joint",
            "if not all(_drawn(marks, *line) for line in found)",
            "if not marks",
            "test_a_mark_in_another_place_is_seen",
        ),
        (
            "dxf-strip",
            'or not near:\n            yield f"the outline is no trapezoid',
            'or not found:\n            yield f"the outline is no trapezoid',
            "test_a_strip_of_another_miter_is_seen_in_its_cut_file",
        ),
    ),
    *_in(
        "outputs/readback/pdf.py",
        "tests/outputs/test_cover_files.py",
        (
            "pdf-joint",
            "faults += _joint_faults(together, board)",
            "pass",
            "test_a_mark_in_another_place_is_seen",
        ),
    ),
    *_in(
        "geometry/shape/stands.py",
        "tests/geometry/test_checks_well.py",
        (
            "well-plug-beside",
            "return True, away >= radius**2",
            "return True, True",
            "test_the_plug_counts_only_under_the_plug",
        ),
        (
            "well-step-counts",
            "z += well.step.height",
            "z += 0.0",
            "test_a_vessel_that_has_room_on_the_step_alone_is_judged_there",
        ),
        (
            "well-room-over",
            "clear = layout.sealing_z - z - vessel.tall",
            "clear = layout.sealing_z - z - vessel.height",
            "test_head_room_at_its_limit",
        ),
    ),
    *_in(
        "geometry/shape/inner.py",
        "tests/geometry/test_checks_well.py",
        (
            "inner-tailpiece",
            "end = shank.length - tap.cover + shank.tailpiece_length",
            "end = shank.length - tap.cover",
            "test_shanks_and_tailpieces_are_in_the_way",
        ),
    ),
    *_in(
        "geometry/shape/inner.py",
        "tests/geometry/test_packed.py",
        (
            "line-hangs-down",
            "bottom=z - LINE_BEND - LINE",
            "bottom=z - LINE_BEND",
            "test_vessels_below_the_line_do_not_matter",
        ),
    ),
    *_in(
        "geometry/shape/well.py",
        "tests/geometry/test_checks_well.py",
        (
            "well-out-of-square",
            "max(front_left[0], back_left[0]),",
            "min(front_left[0], back_left[0]),",
            "test_a_collar_out_of_square_counts_by_the_rectangle_within_it",
        ),
    ),
    *_in(
        "geometry/shape/vessel.py",
        "tests/geometry/test_checks_well.py",
        (
            "vessel-reading-first",
            "return own if own is not None else part.value(figure) if part else 0.0",
            "return part.value(figure) if part else own or 0.0",
            "test_vessels_have_names_and_one_finding_each",
        ),
    ),
    *_in(
        "geometry/judge/checks/well.py",
        "tests/geometry/test_checks_well.py",
        (
            "opening-mouth",
            "rects = [well.mouth, *(opening.rect",
            "rects = [*(opening.rect",
            "test_where_no_shank_is_the_well_decides",
        ),
        (
            "foam-land-flush",
            "measured = board.thickness - over + panel.thickness - (",
            "measured = board.thickness + panel.thickness - (",
            "test_foam_further_out_is_further_from_the_edge",
        ),
        (
            "lift-limit",
            "design.required(LIFT.id, 23.0)",
            "design.required(LIFT.id, 25.0)",
            "test_what_one_person_lifts",
        ),
    ),
    *_in(
        "geometry/judge/checks/gas_bar.py",
        "tests/geometry/test_checks_well.py",
        (
            "manifold-washer",
            "tap.washer_diameter or 0.0)",
            "0.0)",
            "test_the_manifold_clears_the_nut_beside_it",
        ),
        (
            "manifold-handles",
            "manifold.length / 2 - first + sweep)",
            "0.0)",
            "test_handles_and_inlet_of_a_known_manifold_count",
        ),
    ),
    *_in(
        "geometry/judge/packed.py",
        "tests/geometry/test_packed.py",
        (
            "vessels-way-in",
            "if standing.order is not None and not standing.order.found:",
            "if standing.order is None:",
            "test_vessels_that_do_not_get_in_do_not_pass",
        ),
        (
            "vessels-tolerance",
            "losses.append(((each.value - each.low) / 2, each.says))",
            "losses.append((each.value - each.low, each.says))",
            "test_two_in_a_well_keep_what_its_walls_leave",
        ),
        (
            "tail-room-unproved",
            "if measured < required and not standing.with_lines and not standing.lines_ruled_out:",
            "if measured < 0:",
            "test_without_places_or_a_proof_tail_room_is_not_checked",
        ),
    ),
    *_in(
        "geometry/judge/standing.py",
        "tests/geometry/test_packed.py",
        (
            "vessels-lines",
            "packing = self._pack(replace(problem, obstacles=(*problem.obstacles, *lines)))",
            "packing = self._pack(problem)",
            "test_the_line_bends_clear_of_a_tall_vessel",
        ),
        (
            "vessels-packed-once",
            "if problem not in self._packed:",
            "if problem:",
            "test_the_same_problem_is_packed_once",
        ),
    ),
    *_in(
        "outputs/summary.py",
        "tests/outputs/test_vessels_command.py",
        (
            "summary-well-feet",
            '"z_mm": place.z,',
            '"z_mm": 0.0,',
            "test_the_well_is_in_the_summary_as_its_schema_says",
        ),
)
