"""The general-arrangement drawing: read from facts.json and views.json, written as DXF and PDF from the same strokes.

`ink` holds pens and strokes, `sheet` what lies on one sheet and which lettering meets which; `border` and `titleblock` draw
the sheet's own parts, `frame` a view at its scale, `dims` and `symbols` what stands beside it. `arrange` chooses the scale and
the places, `views` and `sections` dimension each view, `general` puts all of it together; `dxf` and `pdf` write the sheet.
All coordinates on a sheet are mm of paper, origin at the lower left corner of the trimmed sheet.
"""
