import { readFileSync } from 'node:fs';
import { type Job, readJob } from '@okuri/core';
import { fitTies, followSize, layRepeat, makeLattice, sizeMotif } from '@okuri/core/inside';
import { readSvg } from '@okuri/reader';
import { expect, it } from 'vitest';

// The demo's ten ties (300 × 420 mm, half-drop) at other sizes of its unit. Where they must lie is told by the definition of the size alone: the artwork follows the
// width evenly, and another height takes or gives room at the bottom without stretching it.

const read = (name: string) => readFileSync(new URL(`../fixtures/demo/${name}`, import.meta.url));
const DEMO = JSON.parse(read('demo.okuri.json').toString());
const motif = readSvg(read('motif.svg'));

function atSize(keys: object) {
  const { job } = readJob(JSON.stringify({ ...DEMO, ...keys }), { file: 'demo.okuri.json' });
  const sized = sizeMotif(motif, job.size);
  const lattice = makeLattice(job.repeat, sized.frame.widthMm, sized.frame.heightMm);
  const { cell } = layRepeat(sized.shapes, lattice, { ...job, reachMm: job.joins.reachMm });
  const followed = followSize(job, cell);
  const { widthMm, flareMm } = job.paper.tie;
  const stand = (ties: Job['ties']): number =>
    fitTies(cell, 0, ties['#000000'], { widthMm, flareMm }).filter((tie) => tie !== null).length;
  return { job, followed, stand, lattice };
}

it.each([
  [{ width: '315mm' }, 1.05],
  [{ width: '240mm' }, 0.8],
  [{ height: '440mm' }, 1],
  [{ width: '315mm', height: '460mm' }, 1.05],
])('keeps every tie of the demo on its banks at %j', (size, growth) => {
  const { job, followed, stand, lattice } = atSize({ ...size, takenAt: { ties: '300x420mm' } });
  const ties = followed.job.ties['#000000'];
  expect(stand(followed.job.ties)).toBe(10);
  expect(followed.tiesFrom).toEqual({ widthMm: 300, heightMm: 420 });
  expect(followed.job.takenAt.ties).toMatchObject({ widthMm: lattice.widthMm, heightMm: lattice.heightMm });
  for (const [k, { id, kind, from, to }] of ties.entries()) {
    const was = DEMO.ties['#000000'][k];
    // The demo's release ties are named as jobs of the first days name them.
    expect([id, kind]).toEqual([was.id.replace('T', 'R'), was.kind]);
    for (const [p, [x, y]] of [
      [from, was.from],
      [to, was.to],
    ] as const) {
      expect(Math.hypot(p.x - growth * x, p.y - growth * y)).toBeLessThan(2e-4);
    }
  }
  // Their width is the job's, at any size.
  expect(followed.job.paper.tie).toEqual(job.paper.tie);
  // Left where they were, they would not all find their banks wherever the artwork grew.
  if (growth !== 1) expect(stand(job.ties)).toBeLessThan(10);
});
