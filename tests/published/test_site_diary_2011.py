"""An apprentice's site diary of a student-built house (2011): the length of a stud.

Standing: read, a trade calculation. Tolerance: the mm.
"""

from dataclasses import replace

from takeoff.framing.walls import frame_wall


def test_stud_of_a_2400_ceiling(bare_house):
    # ceiling 2400, 20 for ceiling and floor linings, less two plates of 45: 2330
    design = bare_house(low_height=2.400 + 0.020, stud_thickness=0.045)
    practice = replace(design.practice, top_plates=1, bottom_plates=1)
    design = replace(design, practices={practice.name: practice})
    frame = frame_wall(design, "low", material="x")
    assert {round(m.length * 1000) for m in frame.members if m.use == "stud"} == {2330}
