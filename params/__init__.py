"""The room of what people write: arms, materials, routes, outages, and the closed schema that reads them.

`yamlfile` reads plain YAML with the line of every key, `edited` changes values of a file and keeps its comments. `read` turns
data into the frozen models of `arm` (built from `fields`, `shape` and `work`); `told` and `problems` say every fault in one
line, `rules` and its parts hold what must fit across fields, `linkage` says where the pins stand over the swing. `units` is
the border: text with a unit outside; N, mm, MPa, kg and radians inside. `check` and `new` are the two commands; `arguments`
reads those of every command.
"""
