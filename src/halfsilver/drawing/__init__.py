"""Drawings: a neutral scene in millimetres, put onto paper, and its writers for SVG, DXF and PNG.

A short tour (nothing is imported here; take names from the modules)::

    from halfsilver.drawing.scene import (Scene, Line, Polyline, Polygon, rectangle, Arc, Circle, Text, Anchor, CentreLine,
        CoatedFace, BreakLine, Dimension, dimension_chain, baseline_dimensions, Axis, Side, Leader, Callout, Callouts, Group)
    from halfsilver.drawing.moves import moved, mirrored     # mirrored: the view from behind
    from halfsilver.drawing.style import DrawingStyle, DEFAULT_STYLE, Role, Material
    from halfsilver.drawing.view import View, Scale, SCALES, Sheet, largest_scale
    from halfsilver.drawing.fit import fitted, sheet_of
    from halfsilver.drawing.plot import view_bounds
    from halfsilver.drawing.svg import sheet_svg, view_svg
    from halfsilver.drawing.collide import overlaps          # texts on texts, texts on lines: () when all is well
    from halfsilver.drawing.lettering import width_mm, wrapped
    from halfsilver.drawing.sheets import framed, room, landscape, PAPERS, TitleBlock   # border, title block, check line
    from halfsilver.drawing.dxf import view_dxf              # needs ezdxf, imported only then
    from halfsilver.drawing.png import png                   # needs resvg_py, imported only then

    scene = Scene(title="Front view", items=(
        rectangle(x_mm=0, y_mm=0, width_mm=1450, height_mm=850, material=Material.GLASS, name="front.glass", title="Front glass"),
        Dimension(start=(0, 0), end=(1450, 0), text="57 3/32 in", name="outside.width", side=Side.BELOW),
    ))
    svg = view_svg(View(scene=scene, scale=Scale(10), caption="Front view"))

- **A scene** is in millimetres of the thing, x right, y up, and knows no scale. Lettering sizes and label offsets are
  millimetres of the paper (`size_mm`, `shift_mm`, `to_mm`).
- **Parts**: give a `Polygon`, `Circle` or `Group` a `name` (part or ledger name) and a `title`; SVG gets ``data-name`` and
  ``<title>``. `material` brings tint and hatch; `grain_deg` turns the hatch.
- **Dimensions** carry the caller's text and, in `name`, the ledger entry. They are stacked outside the shape by themselves:
  same side (and same `base_mm`, if given) make one stack, short ones inside, those of one `chain` in one row; texts that do
  not fit are raised above the line. Texts, lines and rows never need to be placed by hand.
- **Callouts** set a column of texts beside (or a row above or below) everything else, leaders never crossing.
- **Text** such as ``53 1/4 in`` is set with a raised and a lowered figure and stays those very characters in SVG and PDF.
- **Views**: `View(scene=, scale=, at_mm=, caption=)`; `fitted(scene, box=)` takes the largest usual scale for which everything
  printed fits; a `Sheet` holds views and paper items. `room(...)` tells where a framed sheet is free for views.
- **Open ends**: `open_edges` leaves edges of a polygon undrawn where a part goes on beyond a `BreakLine`.
- **Layers of ink**: shapes in the order given, then dimensions, leaders, texts, callouts; extension, centre and hatch lines are
  interrupted behind texts. Put dimension points on the very corners they measure.
"""
