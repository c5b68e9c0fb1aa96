import { type Contour, circleContour, type JobResult, type Point, polyline, runJob, type Shape } from '@okuri/core';
import { contourArea, reverseContour } from '@okuri/core/inside';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { acceptAll, bareJob, faultsOf, type Says } from './support/paper-ties.js';
import { disc, fill, motifOf, stroke } from './whole-job/support.js';

// Ties on random motifs, over whole jobs: the same claims as over the icons, on every kind of repeat and on sheets of several units.

const [WIDTH, HEIGHT] = [110, 90];

const sheets: readonly Says[] = [
  { repeat: 'straight' },
  { repeat: 'half-drop' },
  { repeat: 'brick' },
  { repeat: 'drop', step: '1/3' },
  { repeat: 'straight', across: 2 },
  { repeat: 'half-drop', across: 2 },
  { repeat: 'half-drop', down: 2 },
];

type Value<A> = A extends fc.Arbitrary<infer T> ? T : never;

const share = fc.double({ min: 0, max: 1, noNaN: true });
const place = fc.record({ x: share, y: share }).map(({ x, y }): Point => ({ x: x * WIDTH, y: y * HEIGHT }));

/** A blob: a circle that waves, 7 to 19 mm in radius. */
function blob({ x, y }: Point, r: number, lobes: number, turn: number): Contour {
  const at = (k: number): Point => {
    const t = (2 * Math.PI * k) / 90;
    const out = r * (1 + 0.18 * Math.sin(lobes * t + turn));
    return { x: x + out * Math.cos(t), y: y + out * Math.sin(t) };
  };
  return polyline(
    Array.from({ length: 90 }, (_, k) => at(k)),
    { closed: true },
  );
}

/** One thing of a motif: a disc, or a ring or a blob of any width whose inside is an island. */
const thing = fc.record({
  kind: fc.constantFrom('disc', 'ring', 'blob'),
  at: place,
  r: share,
  gap: share,
  lobes: fc.nat(5),
  turn: share,
});

function thingShape({ kind, at, r, gap, lobes, turn }: Value<typeof thing>): Shape {
  const outer = 7 + 12 * r;
  const width = 1 + gap * (outer - 2.5);
  if (kind === 'disc') return disc('disc', at, outer / 2);
  if (kind === 'ring') return stroke('ring', [circleContour(at, outer - width / 2)], width);
  const inner = blob(at, outer - width, lobes, 6 * turn);
  return fill('blob', [blob(at, outer, lobes, 6 * turn), reverseContour(inner)]);
}

/** A net of lines between posts: all of its meshes are islands. */
const net = fc.record({ meshes: fc.integer({ min: 3, max: 5 }), pen: share, lean: share });

function netShapes({ meshes, pen, lean }: Value<typeof net>): Shape[] {
  const line = (from: Point, to: Point): Contour => polyline([from, to], { closed: false });
  const width = 1.2 + 4 * pen;
  return Array.from({ length: meshes }, (_, k) => (k + 0.5) / meshes).flatMap((t) => {
    const y = 8 + t * (HEIGHT - 16);
    return [
      stroke('post', [line({ x: t * WIDTH, y: 12 }, { x: t * WIDTH + 8 * lean, y: HEIGHT - 12 })], width),
      stroke('rail', [line({ x: 6, y }, { x: WIDTH - 6, y })], width),
    ];
  });
}

const motifs = fc.oneof(
  { weight: 4, arbitrary: fc.record({ things: fc.array(thing, { minLength: 2, maxLength: 7 }) }) },
  { weight: 1, arbitrary: fc.record({ net }) },
);

function shapesOf(motif: Value<typeof motifs>): Shape[] {
  return 'net' in motif ? netShapes(motif.net) : motif.things.map(thingShape);
}

describe('ties on random motifs', () => {
  it('make no neck and no slit, and hold all that can be held', () => {
    const seen = { islands: 0, ties: 0, impossible: 0 };
    fc.assert(
      fc.property(motifs, fc.constantFrom(...sheets), (motif, says) => {
        const accepted = acceptAll(motifOf(shapesOf(motif), WIDTH, HEIGHT), says);
        const { before, found } = accepted;
        seen.islands += before.strength[0].islands.length;
        seen.ties += found[0].suggested.length;
        seen.impossible += found[0].impossible.length;
        expect(faultsOf(accepted)).toEqual([]);
      }),
      { numRuns: 16 },
    );
    console.log(`random motifs: ${seen.islands} islands, ${seen.ties} ties, ${seen.impossible} impossible`);
    expect(seen.islands).toBeGreaterThan(30);
    expect(seen.ties).toBeGreaterThan(seen.islands / 2);
  });
});

describe('a tie over a seam', () => {
  /** A ring on the left seam, 6 mm wide, and a tie up and down across it there: half of it on either side of the seam. */
  const at = { x: 0, y: 20 };
  const ring = stroke('ring', [circleContour(at, 15)], 6);
  const tie = (x = 0, y = 0) => ({ id: 'T1', kind: 'printed', from: [x, y + 32], to: [x, y + 38] }) as const;
  const run = (says: Says, ...ties: ReturnType<typeof tie>[]): JobResult =>
    runJob(
      motifOf([ring], WIDTH, HEIGHT),
      bareJob({ spill: 'carry', ...says, ...(ties.length > 0 ? { ties: { '#000000': ties } } : {}) }),
    );
  const openArea = ({ openings }: JobResult): number => openings.reduce((sum, { areaMm2 }) => sum + areaMm2, 0);
  /** The tie's strip and its flares: parabolas 0.6 mm long and 0.4 mm high; the ring's banks bend by a little more or less. */
  const strip = 2 * 6 + 4 * 0.4 * 0.6 * (1 / 3);

  it.each([
    ['straight', 0],
    ['half-drop', HEIGHT / 2],
  ] as const)('is carried over in a %s', (repeat, drop) => {
    const bare = run({ repeat });
    const tied = run({ repeat }, tie());
    expect(Math.abs(openArea(bare) - openArea(tied) - strip)).toBeLessThan(0.25);
    // Its two halves stand on the sheet's left and right side, the left one with the lap.
    const { field, ties } = tied.sheets[0];
    const boxes = ties.map(({ outline }) => {
      const xs = outline.coords.filter((_, k) => k % 2 === 0);
      return { x0: Math.min(...xs) - field.x0, x1: Math.max(...xs) - field.x0, areaMm2: contourArea(outline) };
    });
    expect(boxes.map(({ x0, x1 }) => [x0, x1].map((x) => Math.round(x * 10) / 10)).sort((p, q) => p[0] - q[0])).toEqual(
      [
        [-0.4, 1.4],
        [WIDTH - 1.4, WIDTH],
      ],
    );
    // Named on any of its copies it is the same tie.
    const copy = run({ repeat }, tie(WIDTH, drop));
    expect(copy.openings.map(({ areaMm2 }) => areaMm2.toFixed(4))).toEqual(
      tied.openings.map(({ areaMm2 }) => areaMm2.toFixed(4)),
    );
    expect(tied.findings.filter(({ code }) => code === 'tie-astray')).toEqual([]);
    const meets = ({ joins }: JobResult) => joins.filter(({ state }) => state === 'meets').length;
    // Two ends that met at the seam are paper now: the ring's lower crossing is gone, the upper one is as it was.
    expect(meets(tied)).toBe(meets(bare) - 2);
  });

  it('stands whole where the sheet holds the units on both sides', () => {
    const tied = run({ repeat: 'straight', across: 2 }, tie());
    const { field, ties } = tied.sheets[0];
    const whole = ties.filter(({ outline }) => Math.abs(contourArea(outline) - strip) < 0.25);
    expect(whole).toHaveLength(1);
    expect(whole[0].from.x - field.x0).toBeCloseTo(WIDTH, 6);
  });
});
