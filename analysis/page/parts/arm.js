// The arm in three dimensions with a field on it.
const VIEWS = { oblique: [-0.3, -0.42, 0.86], front: [0, 0, 1], above: [0, 1, 0.01], end: [1, 0, 0.01] };
// Farther away where the view is narrow, so that the whole arm is in it.
const far = () => 0.85 * Math.max(1, (1.7 * byId('arm-view').clientHeight) / byId('arm-view').clientWidth);

function option(select, value, text = value) {
  select.append(make('option', text, { value }));
}

function setUpArm() {
  const [design, field, load] = ['arm-design', 'arm-field', 'arm-case'].map(byId);
  Object.keys(DATA.skins).forEach((id) => option(design, id, DATA.panels[id].title));
  const fields = DATA.skins['as-written'].fields;
  [...new Set(fields.map((one) => one.name))].forEach((name) => option(field, name));
  [...new Set(fields.map((one) => one.case).filter(Boolean))].forEach((name) => option(load, name));
  load.value = DATA.governing;
  [design, field, load].forEach((one) => one.addEventListener('change', drawArm));
  document.querySelectorAll('[data-view]').forEach((one) => one.addEventListener('click', () => look(VIEWS[one.dataset.view])));
  byId('arm-view').addEventListener('keydown', turnByKey);
  listeners.push((id) => {
    if (id in DATA.skins && design.value !== id) {
      design.value = id;
      drawArm();
    }
  });
}

function field() {
  const fields = DATA.skins[byId('arm-design').value].fields;
  const name = byId('arm-field').value;
  const load = byId('arm-case').value;
  const number = fields.findIndex((one) => one.name === name && (one.case === null || one.case === load));
  return { fields, number, active: fields[number] };
}

function scale(fields, name) {
  const same = fields.filter((one) => one.name === name);
  const low = same[0].logarithm ? Math.min(...same.map((one) => one.low)) : 0;
  return [low, Math.max(...same.map((one) => (one.logarithm ? one.high : one.peak)))];
}

function drawArm() {
  const { fields, number, active } = field();
  if (!active) return drawNothing();
  byId('arm-case').disabled = active.case === null;
  const id = byId('arm-design').value;
  const [low, high] = scale(fields, active.name);
  const bar = { title: { text: plain(barTitle(active)), side: narrow() ? 'top' : 'right' }, thickness: 16, len: 0.85, tickfont: { size: 13 } };
  if (narrow()) Object.assign(bar, { orientation: 'h', y: 0, yanchor: 'bottom' });
  if (active.logarithm) Object.assign(bar, decades(low));
  const mesh = {
    type: 'mesh3d', ...shape(id), intensity: values(fields, number), cmin: low, cmax: high, colorscale: 'Viridis', colorbar: bar,
    reversescale: Boolean(active.logarithm), flatshading: false,
    lighting: { ambient: 0.75, diffuse: 0.4, specular: 0.02, roughness: 1 }, lightposition: { x: -2000, y: 3000, z: 6000 },
    hovertemplate: active.logarithm ? '10^%{intensity:.2f} years<extra></extra>' : `%{intensity:.4~g} ${plain(active.unit)}<extra></extra>`,
  };
  const peak = { type: 'scatter3d', mode: 'markers', x: [active.at[0]], y: [active.at[1]], z: [active.at[2]], hoverinfo: 'skip',
    marker: { size: 5, color: 'rgba(0,0,0,0)', line: { color: RED, width: 3 }, symbol: 'circle-open' }, showlegend: false };
  const bare = { visible: false, showspikes: false };
  const [x, y, z] = VIEWS.oblique.map((part) => far() * part);
  const layout = {
    font: FONT, margin: { l: 0, r: 0, t: 0, b: 0 }, uirevision: 'same',
    scene: { aspectmode: 'manual', aspectratio: proportions(shape(id)), xaxis: bare, yaxis: bare, zaxis: bare, dragmode: 'orbit',
      camera: { eye: { x, y, z }, up: { x: 0, y: 1, z: 0 } } },
  };
  Plotly.react(byId('arm-view'), [mesh, peak], layout, QUIET);
  byId('arm-message').textContent = describe(active, DATA.skins[id].whole);
}

// Ticks of the colours of a life: the shortest, and the powers of ten clear of it.
function decades(low) {
  const tickvals = [low, ...[0, 1, 2, 3, 4].filter((power) => power > low + 0.15)];
  return { tickvals, ticktext: tickvals.map((power) => (power === 4 ? '10,000 or more' : rough(10 ** power))) };
}

// Sides of the box about the arm, the longest being one.
function proportions(corners) {
  const size = (list) => list.reduce((most, one) => Math.max(most, one), -Infinity) - list.reduce((least, one) => Math.min(least, one), Infinity);
  const [x, y, z] = [corners.x, corners.y, corners.z].map(size);
  const longest = Math.max(x, y, z);
  return { x: x / longest, y: y / longest, z: z / longest };
}

function drawNothing() {
  Plotly.purge(byId('arm-view'));
  byId('arm-message').textContent = 'Years to a crack are computed for the arm as written and for the recommended design, where the file describes its bores; choose one of them.';
}

const barTitle = (active) => (active.unit.startsWith('share') ? `${active.name}, 1 is allowed` : `${active.name}, ${active.unit}`);
const digits = (value) => Number(value.toPrecision(4)).toLocaleString('en', { maximumFractionDigits: 6 });
const rough = (value) => Number(value.toPrecision(2)).toLocaleString('en'); // no life is known better

function describe(active, complete) {
  const at = active.at.map((value) => digits(Number((value * DATA.length.share).toFixed(DATA.length.unit === 'mm' ? 1 : 2)))).join(', ');
  const what = active.logarithm ? 'Least' : 'Largest';
  const unit = active.unit.startsWith('share') ? '' : ` ${active.unit}`;
  const thinned = complete ? '' : ' The outside is thinned for the screen; the value is that of the full mesh.';
  return `${what} ${active.name}${active.case ? ` in load case ${active.case}` : ''}: ${active.logarithm ? rough(active.peak) : digits(active.peak)}${unit} at (${at}) ${DATA.length.unit}, ringed.${thinned}`;
}

function look(way) {
  const [x, y, z] = way.map((part) => far() * part);
  Plotly.relayout(byId('arm-view'), { 'scene.camera.eye': { x, y, z }, 'scene.camera.up': { x: 0, y: y > z && y > x ? 0 : 1, z: y > z && y > x ? -1 : 0 } });
}

// Arrow keys go round the arm: its angle about the vertical and its height.
function turnByKey(event) {
  const turn = { ArrowLeft: [-1, 0, 1], ArrowRight: [1, 0, 1], ArrowUp: [0, 1, 1], ArrowDown: [0, -1, 1], '+': [0, 0, 0.9], '-': [0, 0, 1 / 0.9] }[event.key];
  if (!turn) return;
  event.preventDefault();
  const { x, y, z } = byId('arm-view')._fullLayout.scene.camera.eye;
  const away = Math.hypot(x, y, z) * turn[2];
  const round = Math.atan2(x, z) + 0.15 * turn[0];
  const height = Math.min(Math.max(Math.asin(y / Math.hypot(x, y, z)) + 0.15 * turn[1], -1.5), 1.5);
  const flat = away * Math.cos(height);
  Plotly.relayout(byId('arm-view'), {
    'scene.camera.eye': { x: flat * Math.sin(round), y: away * Math.sin(height), z: flat * Math.cos(round) }, 'scene.camera.up': { x: 0, y: 1, z: 0 },
  });
}
