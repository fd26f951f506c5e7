"""How long the arm lasts: fatigue to a crack, and cracks to the end.

Fatigue: `duty` turns the file's pairs of load cases and measured histories (`counting`) into one table of
cycles; `surface`, `weldclass` and `iiwclass` make the S-N curve (`curve`) of every place, `fretting` weakens
it where a fit rubs, `meanstress` brings a cycle with a mean to a fully reversed one; `plane` finds for every
node the plane through it on which all cycles together do the most damage, and `damage` says in years,
utilisation and allowable range what that means.

Fracture: toughness, stress intensity of cracks, growth, survival and inspection, each in its own file.

Stress tensors have the components xx, yy, zz, xy, yz, zx. MPa, mm, cycles, years.
"""
