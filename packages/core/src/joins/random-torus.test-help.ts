import { circleContour, contoursBox } from '../geometry/contour.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import { makeLattice } from '../repeat/lattice.js';
import { bar, blob, INK, PAPER, randomFrom } from '../repeat/random-cell.test-help.js';
import type { Lattice, Repeat } from '../repeat/types.js';
import type { Patch, TorusPattern } from './torus-tile.test-help.js';

const REPEATS: readonly Repeat[] = [
  { kind: 'straight', step: { p: 0, q: 1 } },
  { kind: 'drop', step: { p: 1, q: 2 } },
  { kind: 'drop', step: { p: 1, q: 3 } },
  { kind: 'drop', step: { p: 2, q: 3 } },
  { kind: 'drop', step: { p: 1, q: 6 } },
  { kind: 'brick', step: { p: 1, q: 2 } },
  { kind: 'brick', step: { p: 1, q: 3 } },
  { kind: 'brick', step: { p: 2, q: 5 } },
];

type Random = ReturnType<typeof randomFrom>;

function patch(ink: string, contour: Contour): Patch {
  return { ink, contour, box: contoursBox([contour]) as Box };
}

function pick<T>(list: readonly T[], random: Random): T {
  return list[Math.floor(random(0, list.length))];
}

/** A random pattern on a random torus, always the same for a seed: overlapping scales, or discs, blobs and bars of ink and paper. */
export function randomPattern(seed: number): TorusPattern {
  const random = randomFrom(seed);
  const lattice = makeLattice(pick(REPEATS, random), random(40, 90), random(40, 90));
  const scales = random() < 0.4;
  return {
    lattice,
    patches: scales ? scalePatches(lattice, random) : mixedPatches(lattice, random),
    order: scales ? 'as-scales' : 'by-patch',
  };
}

/** Discs with rings of paper in them, each lying over those above it on the cloth. */
function scalePatches({ widthMm, heightMm }: Lattice, random: Random): Patch[] {
  const radius = random(4, 20);
  return Array.from({ length: Math.ceil(random(1, 4)) }, () => {
    const centre = { x: random(0, widthMm), y: random(0, heightMm) };
    const rings = Math.ceil(random(0, 4));
    return Array.from({ length: rings }, (_, m) =>
      patch(m % 2 === 1 ? PAPER : INK, circleContour(centre, radius * (1 - m / (rings + 0.3)))),
    );
  }).flat();
}

/** Up to nine discs, blobs and bars, some as thin as a hair, many where seams meet. */
function mixedPatches(lattice: Lattice, random: Random): Patch[] {
  return Array.from({ length: Math.ceil(random(1, 9)) }, (_, k) => {
    const ink = k > 0 && random() < 0.25 ? PAPER : INK;
    const at =
      random() < 0.4
        ? nearJunction(lattice, random)
        : { x: random(0, lattice.widthMm), y: random(0, lattice.heightMm) };
    const kind = random();
    if (kind < 0.4) return patch(ink, circleContour(at, random() < 0.3 ? random(0.2, 3) : random(2, 20)));
    if (kind < 0.7) {
      const radii = Array.from({ length: Math.floor(random(4, 10)) }, () => random(2, 16));
      return patch(ink, blob({ ...at, radii }));
    }
    const nearlyAlong = random() < 0.2;
    const turn = nearlyAlong ? random(-0.02, 0.02) + (random() < 0.5 ? Math.PI / 2 : 0) : random(0, Math.PI);
    const widthMm = random() < 0.5 ? random(0.1, 1) : random(0.5, 6);
    return patch(ink, bar(at, { lengthMm: random(5, 40), widthMm, turn }));
  });
}

/** A place near a point where the seams of the lattice's own ruling meet, from the origin. */
function nearJunction({ repeat, widthMm, heightMm }: Lattice, random: Random): Point {
  const f = repeat.step.p / repeat.step.q;
  const x = random() < 0.5 && repeat.kind === 'brick' ? widthMm * f : 0;
  const y = random() < 0.5 && repeat.kind === 'drop' ? heightMm * (1 - f) : 0;
  return { x: x + random(-6, 6), y: y + random(-6, 6) };
}
