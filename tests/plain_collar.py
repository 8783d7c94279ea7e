"""The barest build file that several tests of plans add their tables to: 940 by 530 mm, one tap."""

COLLAR = """show = "mm"
[lip]
front = "940 mm"
right = "530 mm"
back = "940 mm"
left = "530 mm"
[board]
thickness = "20 mm"
width = "140 mm"
[taps]
count = 1
bore = "25 mm"
"""
