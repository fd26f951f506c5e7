// Packed arrays back into numbers: whole numbers in base64, low byte first, spread evenly from low to high.
const DATA = JSON.parse(byId('data').textContent);

function whole(coded) {
  const bytes = Uint8Array.from(atob(coded.data), (letter) => letter.charCodeAt(0));
  const width = coded.bits / 8;
  const view = new DataView(bytes.buffer);
  const read = { 1: (k) => view.getUint8(k), 2: (k) => view.getUint16(2 * k, true), 4: (k) => view.getUint32(4 * k, true) }[width];
  return Array.from({ length: bytes.length / width }, (_, k) => read(k));
}

function spread(coded, low = coded.low, high = coded.high) {
  const step = (high - low) / (2 ** coded.bits - 1);
  return whole(coded).map((number) => low + step * number);
}

// Corners and triangles of a skin are unpacked once.
const unpacked = new Map();
function shape(id) {
  if (!unpacked.has(id)) {
    const skin = DATA.skins[id];
    const faces = whole(skin.faces);
    const corner = (k) => faces.filter((_, place) => place % 3 === k);
    const [x, y, z] = skin.points.map((coded) => spread(coded));
    unpacked.set(id, { x, y, z, i: corner(0), j: corner(1), k: corner(2) });
  }
  return unpacked.get(id);
}

// A field without data of its own is the one before it on another scale.
function values(fields, number) {
  const field = fields[number];
  const carrier = field.data ? field : fields[number - 1];
  return spread(carrier, field.low, field.high);
}
