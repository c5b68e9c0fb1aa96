import { createRequire } from 'node:module';
import { contourArea, type Outline, boxContour, reverseContour } from '@okuri/core';
import { readSvg } from '@okuri/reader';
import { it } from 'vitest';
import { layMotif, STRAIGHT, tileOf } from './support/pattern.js';
import { findNecks, findSlits } from '../packages/core/src/paper/narrow.js';
import { sampleOutlines } from '../packages/core/src/paper/samples.js';
import { lookAcross } from '../packages/core/src/paper/across.js';
import { throughPlaces } from '../packages/core/src/paper/through-places.js';
const require = createRequire(import.meta.url);
const EDGE = { x0: 0, y0: 0, x1: 60, y1: 60 };
it('x', () => {
  const { icons } = require(`@iconify-json/game-icons/icons.json`) as any;
  for (const [name, qx, qy] of [['berries-bowl', 8.12, 30.26], ['three-friends', 31.85, 20], ['wizard-face', 14.27, 27.29]] as const) {
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="-64 -64 640 640">${icons[name].body}</svg>`;
    const outlines = tileOf(layMotif(readSvg(svg, { widthMm: 60 }), { repeat: STRAIGHT, spill: 'trim' })).inks.flatMap((k) => k.contours);
    const contours = [...outlines, reverseContour(boxContour(EDGE))];
    const s = sampleOutlines(contours, { spacingMm: .25, between: 'paper' });
    const a = lookAcross(s, { reachMm: 2.6, leastCosine: 0 });
    const t = throughPlaces(s, a, { limitMm: 2, reachMm: 2.6, rise: 1.1 });
    const near = t.places.filter(i => Math.hypot(s.x[i]-qx, s.y[i]-qy) < .5);
    console.log(name, near.map(i => [i, a.width[i], a.mate[i]]));
    for (const i of near.slice(0, 2)) {
      for (let j = i - 6; j <= i + 6; j++) console.log(j, j===i?'*':' ', s.u[j].toFixed(4), s.x[j].toFixed(5), s.y[j].toFixed(5), 'n', s.nx[j].toFixed(3), s.ny[j].toFixed(3), s.mx[j].toFixed(3), s.my[j].toFixed(3), 'w', a.width[j].toFixed(5), t.widths[j].toFixed(5), 'f', a.facing[j].toFixed(3), 'm', a.mate[j]);
    }
  }
});
