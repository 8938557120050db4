"""The picture of a topic: where its carriers are, and beside that what is wrong with the worst of them.

It can be read without colour: what the issue is about has bold outlines and labels, shares have hatching.
"""

from functools import cached_property

from checker.model.texts import listed, natural
from checker.report.canvas import INK, SOFT_INK, Canvas, legible, wrapped
from checker.report.scene import Scene
from checker.report.section_panel import draw_section
from checker.result.tables import CompartmentRow, Result, Topic

WIDTH, HEIGHT = 1200, 675
_TITLE_PX = 64
_SCENE_PX = 780
_EDGE_PX = 18.0
_MOST_STOREYS = 3


class Gallery:
    """The pictures of a result's topics."""

    def __init__(self, result: Result) -> None:
        self._result = result
        self._ends = {row.key for row in result.equipment}
        self._carriers = {row.key: row for row in result.carriers}
        self._findings = {row.id: row for row in result.findings}
        self._views = {row.carrier: row.view for row in result.sections}
        self._compartments: dict[str, list[CompartmentRow]] = {}
        for row in sorted(result.compartments, key=lambda row: row.number):
            self._compartments.setdefault(row.carrier, []).append(row)

    @cached_property
    def _scene(self) -> Scene:
        """Made with the first picture: a run that goes on with notes may draw none."""
        return Scene(self._result)

    def snapshot(self, topic: Topic) -> bytes:
        """The picture of a topic as a PNG file of 1200 by 675 pixels."""
        canvas = Canvas(WIDTH, HEIGHT)
        scene = Canvas(_SCENE_PX, HEIGHT - _TITLE_PX)
        self._scene.draw(
            scene,
            topic.camera,
            (*topic.carriers, *(key for place in topic.cables if (key := place.global_id) in self._ends)),
            self._where(topic),
        )
        canvas.put(scene, (0.0, float(_TITLE_PX)))
        _title(canvas, legible(topic.title, "See the title of the note"))
        canvas.line([(_SCENE_PX, _TITLE_PX), (_SCENE_PX, HEIGHT)], SOFT_INK, 1.0)
        self._section(canvas, topic)
        return canvas.png()

    def _where(self, topic: Topic) -> str:
        """The storeys of what the topic is about, and the space where it is in one."""
        places = [self._carriers[key].place for key in topic.carriers if key in self._carriers] or list(topic.cables)
        storeys = listed(sorted({place.storey for place in places if place.storey}, key=natural), _MOST_STOREYS)
        spaces = {place.space for place in places}
        words = (storeys, spaces.pop() if len(spaces) == 1 else "")
        return ", ".join(legible(word, "") for word in words if legible(word, ""))

    def _section(self, canvas: Canvas, topic: Topic) -> None:
        finding = self._findings.get(topic.worst)
        keys = [*(finding.carriers if finding else ()), *topic.carriers]
        row = next((self._carriers[key] for key in keys if key in self._carriers), None)
        area = (_SCENE_PX + _EDGE_PX, _TITLE_PX + 14.0, WIDTH - _EDGE_PX, HEIGHT - 8.0)
        if row is None:
            canvas.text((area[0], area[1]), "No section: no carrier is concerned.", 16, SOFT_INK)
            return
        view = self._views.get(row.key)
        draw_section(canvas, area, row, self._compartments.get(row.key, []), finding, view)


def _title(canvas: Canvas, title: str) -> None:
    lines = wrapped(title, 21, WIDTH - 2.0 * _EDGE_PX, 2)
    for place, line in enumerate(lines):
        canvas.text((_EDGE_PX, _TITLE_PX / 2.0 + 26.0 * (place - (len(lines) - 1) / 2.0)), line, 21, INK, "lm")
    canvas.line([(0.0, _TITLE_PX), (WIDTH, _TITLE_PX)], SOFT_INK, 1.0)
