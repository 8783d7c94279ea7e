"""The largest designs that a build file may hold: every list as long as it is accepted."""

MOST = {
    "taps": 60,
    "hole": 40,
    "keep_out": 40,
    "vessel": 40,
    "pour": 60,
    "owned": 60,
    "length": 60,
    "bore": 60,
}
"""Rows of each table that are accepted."""

HEAD = """\
title = "{title}"
[lip]
front = {front}
right = {right}
back = {front}
left = {right}
front_left_to_back_right = {diagonal}
front_right_to_back_left = {diagonal}
land = "60 mm"
[board]
thickness = "38 mm"
width = "300 mm"
bracket = "bracket-2x2-in"
[lid]
overhang = "10 mm"
skirt = "20 mm"
skirt_thickness = "3 mm"
gasket_inset = "20 mm"
gasket_width = "25 mm"
thickness = "60 mm"
plug = "30 mm"
plug_inset = "60 mm"
[hinge]
axis_behind = "20 mm"
axis_above = "-10 mm"
open_to = "85 deg"
positions = [{hinges}]
leaf_height = "50 mm"
leaf_width = "25 mm"
leaf_thickness = "2 mm"
screws = 20
[room]
behind = "200 mm"
above = "2000 mm"
[foam]
thickness = "25 mm"
pocket = "55 mm"
[manifold]
kind = "manifold-3-outlet-compact"
side = "back"
centre = "70 mm"
[well]
length = "1500 mm"
width = "1500 mm"
height = "1200 mm"
mouth_length = "1800 mm"
mouth_width = "1800 mm"
[stock]
kerf = "3 mm"
"""
TAPS = """\
[taps]
positions = [{positions}]
names = [{names}]
height = "150 mm"
bore = "26 mm"
shank = "shank-4-1-8-in"
handle = "handle-tall-display"
faucet = "faucet-forward-sealing"
wrench = "wrench-hook-pin"
washers = "3 mm"
washer_diameter = "50 mm"
"""


def _listed(values: list[str]) -> str:
    return ", ".join(f'"{value}"' for value in values)


def worst(**only: int) -> str:
    """Return the text of a build file in which every list is full.

    Args:
        only: numbers of rows by table (taps, hole, keep_out, vessel, pour, owned, length,
            bore), each as many as are accepted where it is left out.
    """
    count = {**MOST, **only}
    taps = count["taps"]
    # 60 taps on the longest front that there may be, 4 m
    places = [f"{(i - (taps - 1) / 2) * 64:.3f} mm" for i in range(taps)]
    names = [f"tap number {i:03} " + "n" * 100 for i in range(taps)]
    readings = {name: _listed([f"{size} mm"] * 20) for name, size in
                (("front", 4000), ("right", 3000), ("diagonal", 5000))}  # fmt: skip
    parts = [
        HEAD.format(
            title="t" * 200,
            hinges=_listed([f"{(i - 5.5) * 300} mm" for i in range(12)]),
            **{name: f"[{each}]" for name, each in readings.items()},
        )
    ]
    parts += [
        f'[[stock.length]]\nlength = "{1000 + 40 * i} mm"\nprice = {10 + i}\n'
        for i in range(count["length"])
    ]
    flaws = ", ".join(f'["{60 * i} mm", "{60 * i + 5} mm"]' for i in range(30))
    parts += [
        f'[[stock.owned]]\nlength = "{2000 + 40 * i} mm"\ndefects = [{flaws}]\n'
        for i in range(count["owned"])
    ]
    parts.append(TAPS.format(positions=_listed(places), names=_listed(names)))
    parts += [
        f'[[hole]]\nside = "{("right", "back", "left")[i % 3]}"\nheight = "250 mm"\n'
        f'diameter = "20 mm"\noffset = "{(i // 3 - 6.5) * 150} mm"\nname = "{"h" * 150} {i}"\n'
        for i in range(count["hole"])
    ]
    parts += [
        f'[[keep_out]]\nside = "{("front", "right", "back", "left")[i % 4]}"\nheight = "20 mm"\n'
        f'width = "30 mm"\ntall = "30 mm"\noffset = "{(i // 4 - 5) * 250} mm"\n'
        f'depth = "50 mm"\nname = "{"k" * 150} {i}"\n'
        for i in range(count["keep_out"])
    ]
    parts += [
        f'[[vessel]]\ndiameter = "{100 + i} mm"\nheight = "{300 + i} mm"\nfitting = "20 mm"\n'
        f"tap = {i % taps + 1}\n"
        for i in range(count["vessel"])
    ]
    parts += [
        f'[[pour]]\ntap = {i + 1}\ndrink = "carbonated"\nname = "{"p" * 190} {i}"\n'
        'carbonation = "2.5 vol"\ntemperature = "4 degC"\n'
        for i in range(min(count["pour"], taps))
    ]
    parts += [
        f'[[built.bore]]\ntap = {i + 1}\nfrom_left = "{100 + 30 * i} mm"\n'
        'from_bottom = "150 mm"\ndiameter = "26 mm"\n'
        for i in range(min(count["bore"], taps))
    ]
    return "".join(parts)
