"""The room of what the arm is: datums, solid, named faces, STEP and mesh.

`datums` says where pin centres, hub and boss circles and the edges of the arms lie, with no CAD at all; hand calculation
and checks use it too. `outline` draws the plane figures of the elevation from the datums, `solid` makes the body of them,
`faces` names its faces by axis and radius, and `step` writes it for people, with the names in the file. `soundness`
measures the body before it is meshed. `mesher` meshes it from its BREP, in one way after the other (`ladder`), each in a
process of its own (`mesher_step`), and gates every element (`quality`); `meshfile` reads the mesh back as plain arrays and writes
fields. Each step leaves files, so that nothing outside this room needs a CAD kernel or a mesher:

    arm.yaml -> solid -> arm.step, arm.brep, faces.json -> mesher -> arm.msh -> meshfile -> arrays

For the drawing `views` holds the hidden-line projections (`projection`, `tidy`) and sections (`cuts`); for the vendor
`blanks` makes near-net solid, `pattern` or `plates` by route, `display` a small model, and `compare` sets a STEP beside the
solid that its parameter file gives.

A body or a mesh that cannot be made is a refusal with its reason (`SolidRefused`, `MeshRefused`; exit code 3), never a
body that is a little wrong.
"""
