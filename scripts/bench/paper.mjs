// The time of the paper's part of a check, and of the suggested ties, against the number of openings.

import { circleContour } from '../../packages/core/dist/index.js';
import { reverseContour } from '../../packages/core/dist/inside.js';
import { core } from '../core.mjs';
import { exponent, halfDropJob, median } from './artwork.mjs';

export async function paperBench({ quick }) {
  const counts = quick ? [256, 1024] : [1024, 4096, 16384];
  const times = new Map();
  for (const count of counts) {
    const job = halfDropJob(core, { repeat: 'straight', cloth: { width: '2m', length: '2m' } });
    const result = core.runJob(rings(count), job);
    const { widthMm, heightMm } = result.sheets[0];
    const paper = { edge: { x0: 0, y0: 0, x1: widthMm, y1: heightMm }, outlines: result.cutOut[0] };
    const runs = count > 5000 ? 1 : 3;
    for (const [name, work] of parts(core, result, paper)) {
      const list = times.get(name) ?? [];
      times.set(name, [...list, await median(work, runs)]);
    }
  }
  const all = counts.map((_, k) =>
    [...times].filter(([name]) => name !== 'suggested ties').reduce((sum, [, t]) => sum + t[k], 0),
  );
  const last = counts.length - 1;
  const shares = [...times]
    .filter(([name]) => name !== 'suggested ties')
    .map(([name, t]) => `${name} ${Math.round((100 * t[last]) / all[last])} %`)
    .join(', ');
  const row = (name, t, more) => [
    `${name}, ${counts.join(' / ')} openings, every second one with an island`,
    `growth exponent ${exponent(counts, t).toFixed(2)}; ${t.map((ms) => `${Math.round(ms)} ms`).join(', ')}${more}`,
    'under 1.25',
  ];
  return [row('paper', all, `; at ${counts[last]}: ${shares}`), row('suggested ties', times.get('suggested ties'), '')];
}

function parts(
  { findIslands, findNecks, findSlits, findTongues, longOpenings, cutAway, openingWork, suggestTies },
  result,
  paper,
) {
  const { rules } = result.sheets[0].paper;
  const contours = paper.outlines.map(({ contour }) => contour);
  const { pace } = result.job;
  return [
    ['islands', () => findIslands(paper)],
    ['necks', () => findNecks(paper, { limitMm: rules.neckMm })],
    ['slits', () => findSlits(paper, { limitMm: rules.slitMm })],
    ['tongues', () => findTongues(paper, { ratio: rules.tongueRatio })],
    ['long openings', () => longOpenings(paper.outlines, { spanMm: rules.spanMm })],
    ['cut away', () => cutAway(contours, result.sheets[0].field)],
    ['work', () => contours.map((contour, k) => openingWork(k, [contour], { pace, turnMm: rules.turnMm }))],
    ['suggested ties', () => suggestTies(result)],
  ];
}

/** Openings of 16 mm in rows, every second one with a round island in it. */
function rings(count) {
  const across = Math.round(Math.sqrt(count));
  const pitch = 20;
  const shapes = Array.from({ length: across * across }, (_, k) => {
    const centre = { x: ((k % across) + 0.5) * pitch, y: (Math.floor(k / across) + 0.5) * pitch };
    const outer = circleContour(centre, 8);
    const contours = k % 2 === 0 ? [outer, reverseContour(circleContour(centre, 4))] : [outer];
    return { id: `ring[${k + 1}]`, ink: '#000000', contours, rule: 'nonzero', clips: [] };
  });
  const side = across * pitch;
  return { frame: { widthMm: side, heightMm: side, from: 'page', assumedPpi: null }, shapes, notices: [] };
}
