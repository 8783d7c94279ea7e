"""What can hurt somebody, each said once; steps, lists and book print it where it bites.

Nothing here says that a thing is without danger. Sources stand below each sentence.
"""

FIRST = (
    "Local codes come first, and so do licensed trades for what the codes keep for them: mains"
    " wiring, gas, plumbing. Where they say otherwise than these papers, they are right. The papers"
    " say what was worked out and what was not; they cannot say that a build is without danger."
)

LABELS = (
    "Follow the manual of each tool, the local rules for workshops, and the label of each glue,"
    " finish, cleaner and cylinder: they go before what is written here."
)
"""Common practice."""

UNPLUG = "Pull the plug before any work on the freezer, and keep it where you can see it."
"""Common practice."""

WALLS = (
    "Never drill, screw or nail into the freezer's walls, floor or rim: refrigerant lines run in"
    " them where nobody can see them, and many freezers hold a flammable gas."
)
"""Common practice; isobutane (R600a) is class A3, flammable, in ASHRAE 34."""

LEAK = (
    "At a hiss or a smell of refrigerant: no flame, no switch, no plug in or out; open windows and"
    " doors, leave, and call a licensed technician."
)
"""Common practice."""

CHILDREN = (
    "A child can be trapped in it. The rule that makes a refrigerator open from inside (16 CFR"
    " 1750) covers cabinets for food above 0 degC: a freezer was never built to it. Take off every"
    " latch and lock, keep children out of the room while it stands open or the lid lies loose."
)
"""16 CFR 1750.1(e), read: "at temperatures above 0 deg C"."""

FROM_INSIDE = (
    "No latch, no lock, no strap that holds the lid shut. Push the closed lid up from its underside"
    " at the front: 15 lbf (67 N) is what 16 CFR 1750 lets a refrigerator's door take, and a"
    " freezer's lid has passed no such test."
)
"""16 CFR 1750.5 and 1750.6: 66.7 N."""

LID = "Two people for the lid: it is wide, its balance shifts as it turns, and hinges pinch."
"""Common practice."""

PROP = "Prop the open lid before you lean in; it can fall shut."
"""Common practice."""

TIP = (
    "An empty freezer with its lid open past upright can tip back: hold it down until it is loaded,"
    " or strap it to the wall."
)
"""Common practice."""

SPRING = (
    "A sprung hinge without the lid's weight snaps open: lock its spring, or hold lid and hinge"
    " together, before the last screw is out."
)
"""Common practice."""

TABLE_SAW = (
    "Table saw: unplug it to set blade and stop; guard and riving knife on, no freehand cut, nobody"
    " in line with the blade, hands 150 mm (6 in) clear of it, both ends of a long stick on"
    " supports. Push wood that you cannot hold from there with a push stick, or clamp it. Let the"
    " blade stop before you reach for a wedge or an offcut. Eyes and ears covered, no gloves, no"
    " loose sleeves."
)
"""29 CFR 1910.213 and OSHA 3157 for guards, the rest common practice."""

OFFCUT = (
    "Only the board, clamped or held to the miter gauge or the fence, lies between stop and blade."
    " What falls off lies on the blade's other side and must be free to move: caught between a stop"
    " and the blade it is thrown. A table saw's rip fence is no stop for a crosscut."
)
"""Common practice at saws, no source."""

HOLE_SAW = (
    "Hole saw: clamp board and backing board, both hands on the drill with its side handle, or a"
    " drill press; it catches and turns the drill in your hands. No gloves, sleeves or loose hair"
    " near it. Eyes covered."
)
"""Common practice."""

DUST = (
    "Wood dust: mask and extraction. The dust of oak and beech is listed as a cause of cancer"
    " (IARC group 1)."
)
"""IARC, from memory."""

FUMES = "Fumes: windows open, no flame, no pilot light, no heater in the room until it is dry."
"""Labels of solvent finishes; common practice."""

RAGS = (
    "Rags with oil finish heat up and catch fire by themselves: dry them flat outdoors, or keep"
    " them under water in a closed metal can."
)
"""Advice of fire services, from memory."""

SKIN = (
    "Gloves, and sleeves down: this gets into the skin, and a skin that has become allergic to it"
    " stays so. Fresh air; no sanding of it before it has cured."
)
"""Labels of epoxies and of glues with isocyanates; common practice."""

STEEL = (
    "Cut steel has edges like knives: gloves while you carry and file it, none at a machine that"
    " turns. It is not cut on a saw for wood."
)
"""Common practice."""

FOAM = (
    "Foam burns, its fumes harm, and building codes want it covered toward rooms: ask yours. Cut it"
    " with a knife, no hot wire and no flame, and not where the dust is breathed."
)
"""IBC 2603 as the foam's row has it; hot wire on PIR: from memory."""

KNIFE = (
    "A sharp snap-off knife along a steel rule that is clamped down: several light strokes, away"
    " from the hand that holds, with no hand or knee in the knife's way. Retract the blade between"
    " cuts."
)
"""Common practice, no source."""

CYLINDER = (
    "A cylinder stands upright and is chained to something that does not move, full or empty, also"
    " while it is changed. One that falls can lose its valve and fly."
)
"""29 CFR 1926.350(a)(9) for upright and secured."""

REGULATOR = (
    "Each gas has its own regulator: CO2 is CGA 320, nitrogen and argon are CGA 580, elsewhere the"
    " fittings differ. Never use an adapter between them: nitrogen comes at about 2200 to 3000 psi"
    " (150 to 200 bar), in some countries more, and a CO2 regulator can burst."
)
"""CGA V-1: the numbers of the valves from public pages that repeat it, pressures from memory."""

HEAT = "Never heat a cylinder, and never let it get above 125 degF (52 degC)."
"""CGA P-1, from memory."""

RELIEF = (
    "Use a regulator with a relief valve of its own, and let no keg, hose or fitting see more than"
    " the pressure that is stamped on it."
)
"""Common practice."""

ROOM = (
    "CO2 in a room: it has no smell, lies low, and stays in the well when the lid opens. Open the"
    " lid, wait and fan before you lean in. Keep the room aired, with a CO2 alarm low down; an"
    " oxygen alarm is not enough."
)
"""At 70 000 ppm, unconscious within minutes with oxygen still above 19 % (NIOSH IDLH documentation
124-38-9, May 1994)."""

NITROGEN = (
    "Nitrogen in a room: no smell, no urge to breathe, and too much of it takes consciousness"
    " without a warning. Keep the room aired, with an oxygen alarm."
)
"""Common practice."""

CAUSTIC = (
    "Caustic cleaner burns skin and blinds: goggles and gloves. Cleaner into water, never water"
    " into cleaner. Never mix it with acid or with anything that holds chlorine. Nobody else at the"
    " taps while it is in the lines, and a note on each faucet."
)
"""Labels of line cleaners; common practice."""

SPEAR = (
    "A keg with a coupler is closed by a spear under a ring in its neck: loosened under pressure it"
    " is thrown hard enough to kill. Vent the keg through its coupler, and leave ring and spear to"
    " whoever fills kegs. For water and cleaner have them fill one, or take a soda keg or a"
    " cleaning bottle with fittings for your lines."
)
"""A brewers' association's safety sheet on keg valves calls a ring put in wrongly the greatest of
all risks with kegs; thrown spears: common practice."""

ACID = (
    "Acid drinks (kombucha, cider, wine, soda, juice; beer and coffee too) take copper out of"
    " brass: the FDA's Food Code keeps copper and its alloys away from drinks with a pH below 6."
    " Where a drink touches shank, tailpiece, faucet, coupler or disconnect, buy stainless steel:"
    " plating wears off."
)
"""FDA Food Code 4-101.14 as state codes repeat it; it excepts copper in brewing beer, not in
serving it. Plating: common practice."""

ALIVE = (
    "A drink that is still alive (kombucha, unfiltered cider) makes gas of its own: warm, its keg"
    " goes past the pressure that you set, and the check valve keeps it in. Keep it cold, have a"
    " relief valve on the keg or its coupler and try it, look at a gauge on the keg after every"
    " loss of cold, and vent it before you uncouple or open anything."
)
"""Common practice."""

RATED = (
    "No cleaner under pressure in a vessel that is not rated for it; vent it before you open it."
)
"""Common practice."""

OUTLET = (
    "Plug it into an outlet with a GFCI (RCD) whose ground is whole, with no extension cord; new"
    " outlets and circuits are work for a licensed electrician."
)
"""NEC 210.8, from memory; common practice."""

FOOD = (
    "Nothing that is glued, painted or foamed here may touch a drink; all that a drink touches is"
    " sold for food."
)
"""21 CFR 177 and NSF/ANSI 51, from memory."""
