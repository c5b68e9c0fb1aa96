// Seeded artwork for benches: the same shapes in every run.
import { circleContour, transformContour } from '../../packages/core/dist/index.js';

/** A small generator of numbers in 0..1 (linear congruential, the constants of C's old rand). */
export function seeded(seed) {
  let state = seed;
  return () => {
    state = (state * 1103515245 + 12345) % 2147483648;
    return state / 2147483648;
  };
}

/** About `count` slanted ellipses in a square unit with 8 mm for each; `overlap` lets them lie over one another. */
export function ellipses(count, { overlap, seed = 7 }) {
  const random = seeded(seed);
  const across = Math.round(Math.sqrt(count));
  const pitch = 8;
  const side = across * pitch;
  const shapes = [];
  for (let i = 0; i < across; i++) {
    for (let j = 0; j < across; j++) {
      const x = (i + (overlap ? random() : 0.5)) * pitch;
      const y = (j + (overlap ? random() : 0.5)) * pitch;
      const turn = random() * Math.PI;
      const r = overlap ? 4.6 : 3.2;
      const c = Math.cos(turn) * r;
      const s = Math.sin(turn) * r;
      const circle = circleContour({ x: 0, y: 0 }, 1);
      const contour = transformContour(circle, [c, s, -0.8 * s, 0.8 * c, x, y]);
      shapes.push({
        id: `ellipse[${shapes.length + 1}]`,
        ink: '#000000',
        contours: [contour],
        rule: 'nonzero',
        clips: [],
      });
    }
  }
  return {
    frame: { widthMm: side, heightMm: side, from: 'page', assumedPpi: null },
    shapes,
    notices: [],
  };
}

/** A job on a motif with all defaults, in a half-drop. */
export function halfDropJob(core, overrides = {}) {
  const text = JSON.stringify({ okuri: 1, motif: 'bench.svg', repeat: 'half-drop', date: '2026-01-01', ...overrides });
  return core.readJob(text, { file: 'bench.okuri.json', date: '2026-01-01' }).job;
}

/** Median of several timings of `work`, ms, after one that is not counted. */
export async function median(work, runs = 5) {
  const times = [];
  for (let n = 0; n <= runs; n++) {
    const start = performance.now();
    await work();
    if (n > 0) times.push(performance.now() - start);
  }
  times.sort((a, b) => a - b);
  return times[times.length >> 1];
}

/** Slope of log time over log count, by least squares. */
export function exponent(counts, times) {
  const xs = counts.map(Math.log);
  const ys = times.map(Math.log);
  const mx = xs.reduce((a, b) => a + b, 0) / xs.length;
  const my = ys.reduce((a, b) => a + b, 0) / ys.length;
  const up = xs.reduce((sum, x, k) => sum + (x - mx) * (ys[k] - my), 0);
  return up / xs.reduce((sum, x) => sum + (x - mx) ** 2, 0);
}
