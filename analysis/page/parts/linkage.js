// The linkage at one position of the swing with the forces on the arm, their curves and their row of the table.
const NAMES = { input: ['input pin', RUST], output: ['output pin', GREEN], pivot: ['pivot', BLUE], weight: ['weight', GREY] };
const drawn = (tag, attributes, text) => {
  const element = document.createElementNS('http://www.w3.org/2000/svg', tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  if (text !== undefined) element.textContent = text;
  return element;
};

function setUpSwing() {
  byId('swing-case').addEventListener('change', drawSwing);
  byId('swing-at').addEventListener('input', moveSwing);
}

function drawSwing() {
  const load = byId('swing-case').value;
  const { heads, cases } = DATA.stroke;
  const rows = cases[load].numbers;
  byId('swing-at').max = rows.length - 1;
  const unit = plain(DATA.linkage.unit);
  const curves = { 'cylinder force': [INK, 'dot'], 'input pin': [RUST, 'solid'], 'output pin': [GREEN, 'solid'], pivot: [BLUE, 'solid'] };
  const traces = Object.entries(curves).map(([name, [color, dash]]) => {
    const column = heads.findIndex((head) => head.startsWith(`${name},`));
    return { type: 'scatter', mode: 'lines', name, x: rows.map((row) => row[0]), y: rows.map((row) => row[column]), line: { color, dash, width: 2 } };
  });
  const foot = below(1, 2);
  const layout = {
    font: FONT, margin: { l: 64, r: 12, t: 12, b: room(foot.lines) }, hovermode: 'x unified', dragmode: false, legend: foot.legend,
    xaxis: axis(narrow() ? 'share of the swing' : 'share of the swing (0 lowered, 1 raised)', { fixedrange: true }), yaxis: axis(`force, ${unit}`, { fixedrange: true }),
  };
  Plotly.react(byId('swing-chart'), traces, layout, QUIET).then(moveSwing);
}

function moveSwing() {
  const load = byId('swing-case').value;
  const at = Number(byId('swing-at').value);
  const { heads, cases } = DATA.stroke;
  fill(byId('swing-table'), heads.map((head) => [head, true]), [cases[load].rows[at]]);
  const row = cases[load].numbers[at];
  const text = `${Number((100 * row[0]).toFixed(1))} % of the swing, output arm ${slope(row[1])}`;
  byId('swing-message').textContent = text;
  byId('swing-at').setAttribute('aria-valuetext', text);
  drawLinkage(DATA.linkage, DATA.linkage.cases[load], at);
  const mark = { type: 'line', x0: row[0], x1: row[0], yref: 'paper', y0: 0, y1: 1, line: { color: RED, width: 1.5 } };
  Plotly.relayout(byId('swing-chart'), { shapes: [mark] });
}

const slope = (angle) => `${digits(Number(Math.abs(angle).toFixed(1)))}\u00b0 ${angle < 0 ? 'below' : 'above'} the horizontal`;

function drawLinkage(all, now, at) {
  const view = byId('swing-view');
  const [x0, y0, x1, y1] = all.extent;
  const size = Math.max(x1 - x0, y1 - y0) / 100;
  view.setAttribute('viewBox', `${x0} ${-y1} ${x1 - x0} ${y1 - y0}`);
  view.replaceChildren();
  const fixed = all.anchors;
  if (fixed.link) line(view, now.output[at], fixed.link, { stroke: GREEN, 'stroke-width': size, 'stroke-dasharray': `${2 * size} ${size}` });
  drawCylinder(view, fixed, now.input[at], size);
  drawBody(view, all.body, now.phi[at], size);
  Object.entries(NAMES).forEach(([name, [label, ink]]) => {
    const from = name === 'weight' ? now.weight_at[at] : name === 'pivot' ? [0, 0] : now[name][at];
    drawForce(view, from, now.forces[name][at], { label, ink, size, all });
  });
}

function line(view, [xa, ya], [xb, yb], attributes) {
  view.append(drawn('line', { x1: xa, y1: -ya, x2: xb, y2: -yb, ...attributes }));
}

function drawCylinder(view, fixed, pin, size) {
  const [ax, ay] = fixed.cylinder;
  const far = Math.hypot(pin[0] - ax, pin[1] - ay);
  const share = Math.min(1, (0.9 * fixed.closed_length) / far);
  const barrel = [ax + share * (pin[0] - ax), ay + share * (pin[1] - ay)];
  line(view, fixed.cylinder, pin, { stroke: '#8a939b', 'stroke-width': fixed.rod });
  line(view, fixed.cylinder, barrel, { stroke: '#5d666f', 'stroke-width': 1.25 * fixed.bore });
  view.append(drawn('circle', { cx: ax, cy: -ay, r: 1.6 * size, fill: '#fff', stroke: INK, 'stroke-width': 0.5 * size }));
}

function drawBody(view, body, phi, size) {
  const group = drawn('g', { transform: `scale(1 -1) rotate(${(phi * 180) / Math.PI})` });
  body.limbs.forEach((corners) => group.append(drawn('polygon', { points: corners.map((point) => point.join(',')).join(' '), fill: '#d3d8dc' })));
  body.circles.forEach(([cx, cy, outer, inner]) => {
    group.append(drawn('circle', { cx, cy, r: outer, fill: '#d3d8dc', stroke: '#8a939b', 'stroke-width': 0.3 * size }));
    group.append(drawn('circle', { cx, cy, r: inner, fill: '#fff', stroke: '#8a939b', 'stroke-width': 0.3 * size }));
  });
  view.append(group);
}

// The arrow starts where the force acts; its length is to the one scale of the page.
function drawForce(view, from, force, { label, ink, size, all }) {
  const amount = Math.hypot(...force);
  if (!amount) return;
  const long = (amount / all.largest) * all.longest;
  const [ux, uy] = force.map((part) => part / amount);
  const head = [from[0] + long * ux, from[1] + long * uy];
  const tip = Math.min(3 * size, 0.8 * long);
  const base = [head[0] - tip * ux, head[1] - tip * uy];
  line(view, from, base, { stroke: ink, 'stroke-width': 0.8 * size });
  const wing = [[base[0] - 0.4 * tip * uy, base[1] + 0.4 * tip * ux], head, [base[0] + 0.4 * tip * uy, base[1] - 0.4 * tip * ux]];
  view.append(drawn('polygon', { points: wing.map(([x, y]) => `${x},${-y}`).join(' '), fill: ink }));
  view.append(drawn('circle', { cx: from[0], cy: -from[1], r: 0.9 * size, fill: ink }));
  if (long < 3 * size) return; // too short to point at: its size stands in the table
  const side = ux < -0.3 ? 'end' : ux > 0.3 ? 'start' : 'middle';
  const place = { x: head[0] + 2 * size * ux, y: -(head[1] + 3.2 * size * uy) + 1.2 * size, 'text-anchor': side, 'font-size': 3.4 * size };
  const halo = { stroke: '#fff', 'stroke-width': 0.8 * size, 'paint-order': 'stroke', 'stroke-linejoin': 'round' };
  view.append(drawn('text', { ...place, ...halo, fill: ink, class: 'force' }, `${label} ${digits(amount)} ${all.unit}`));
}
