/** Random numbers in 0..1 from a word: the same for the same word (hash FNV-1a, generator mulberry32; both in the public domain). */
export function randomFrom(word) {
  let state = 2166136261;
  for (let k = 0; k < word.length; k++) state = Math.imul(state ^ word.charCodeAt(k), 16777619);
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

export const REPEATS = {
  straight: { repeat: 'straight' },
  'half-drop': { repeat: 'half-drop' },
  brick: { repeat: 'brick' },
  'third-drop': { repeat: 'drop', step: '1/3' },
};

/** Sides of units, mm. */
const WIDTHS_MM = [60, 300];

/**
 * How a drawing is laid: size, repeat, where it lies on the unit, clips, what is cut, ties. The same for the same seed and name.
 * `repeat`, one of the names of `REPEATS`, overrules chance; `asDrawn` leaves the drawing's own size and place.
 */
export function settingsFor(name, seed, { repeat, asDrawn = false } = {}) {
  const random = randomFrom(`${seed} ${name}`);
  const chance = (share) => random() < share;
  const pick = (list) => list[Math.floor(random() * list.length)];
  const [least, most] = WIDTHS_MM;
  const widthMm = Math.round(10 * least * (most / least) ** random()) / 10;
  const drawn = pick(Object.keys(REPEATS));
  const place = { shifted: chance(0.45), x: random(), y: random(), room: chance(0.3) ? 1.35 : 1, clip: chance(0.15) };
  const says = {
    ...REPEATS[repeat ?? drawn],
    method: chance(0.5) ? 'direct' : 'resist',
    drawn: chance(0.12) ? 'cloth' : 'cut',
    spill: pick(['auto', 'auto', 'auto', 'auto', 'carry', 'trim']),
    hold: { mode: chance(0.2) ? 'crossing' : 'band' },
    ...(chance(0.06) ? { across: 2 } : chance(0.06) ? { down: 2 } : {}),
    ...(chance(0.1) ? { grain: 'upright', movement: { along: 0.3, across: 0.9 } } : {}),
  };
  const ties = chance(0.2);
  const mirrored = chance(0.15);
  const inkAt = random();
  return { widthMm, repeat: repeat ?? drawn, place: asDrawn ? null : place, says, ties, mirrored, inkAt };
}

/** The drawing moved on its page, with more room around it, and clipped, as the settings say. */
export function placed(svg, place) {
  if (place === null) return svg;
  const tag = /<svg\b[^>]*>/.exec(svg);
  if (!tag) return svg;
  const numbers = /\bviewBox\s*=\s*["']([^"']*)["']/
    .exec(tag[0])?.[1]
    .trim()
    .split(/[\s,]+/)
    .map(Number);
  const size = ['width', 'height'].map((side) =>
    Number(new RegExp(`\\s${side}\\s*=\\s*["']([\\d.]+)`).exec(tag[0])?.[1]),
  );
  const [x, y, w, h] = numbers ?? [0, 0, ...size];
  if (![x, y, w, h].every(Number.isFinite)) return svg;
  const [wide, high] = [w * place.room, h * place.room];
  const left = x - (wide - w) / 2 + (place.shifted ? (place.x - 0.5) * w : 0);
  const top = y - (high - h) / 2 + (place.shifted ? (place.y - 0.5) * h : 0);
  const head = tag[0].replace(/\s(viewBox|width|height)\s*=\s*("[^"]*"|'[^']*')/g, '');
  const opened = head.replace(/\s*\/?>$/, ` viewBox="${left} ${top} ${wide} ${high}">`);
  const end = svg.lastIndexOf('</svg>');
  const body = svg.slice(tag.index + tag[0].length, end);
  const [cx, cy, r] = [x + w / 2, y + h / 2, 0.43 * Math.min(w, h)];
  const limit =
    `<clipPath id="limit-of-all"><path clip-rule="evenodd" d="M${cx - r} ${cy}a${r} ${r * 0.8} 0 1 0 ${2 * r} 0a${r} ${r * 0.8} 0 1 0 ${-2 * r} 0z` +
    `M${cx - r / 3} ${cy - r / 4}h${r / 2}v${r / 3}z"/></clipPath>`;
  const inside = place.clip ? `${limit}<g clip-path="url(#limit-of-all)">${body}</g>` : body;
  return `${svg.slice(0, tag.index)}${opened}${inside}</svg>`;
}
