"""The page: one HTML file an arm, opened from disk, and the index of all arms.

`data` gathers what the page shows beyond the tables: `skin` thins the outside of the meshes with their fields (`packed` as compact
text), `cloud` thins the swept designs; `stills` makes the pictures small. `page` and
`index` only set what stands in the tables into the templates of `parts/`; `tables` turns table rows into cells, `panels`
gathers what is shown of a chosen design, `embed` puts the scripts in with their hashes. In the browser: `parts/*.js`.
"""
