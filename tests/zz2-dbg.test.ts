import { createRequire } from 'node:module';
import { contourArea, type Outline } from '@okuri/core';
import { readSvg } from '@okuri/reader';
import { it } from 'vitest';
import { layMotif, STRAIGHT, tileOf } from './support/pattern.js';
import { sampleOutlines } from '../packages/core/src/paper/samples.js';
import { lookAcross } from '../packages/core/src/paper/across.js';
import { throughPlaces } from '../packages/core/src/paper/through-places.js';
import { closestSpan } from '../packages/core/src/paper/closest.js';
const require = createRequire(import.meta.url);
it('x', () => {
  const { icons } = require(`@iconify-json/game-icons/icons.json`) as any;
  for (const [name, between, qx, qy, r] of [['shoebill-stork', 'paper', 32.45, 35.55, 6], ['bowling-strike', 'opening', 22.85, 33.65, 3]] as const) {
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="-64 -64 640 640">${icons[name].body}</svg>`;
    const contours = tileOf(layMotif(readSvg(svg, { widthMm: 60 }), { repeat: STRAIGHT, spill: 'trim' })).inks.flatMap((k) => k.contours);
    const s = sampleOutlines(contours, { spacingMm: .25, between });
    const a = lookAcross(s, { reachMm: 2.6, leastCosine: 0 });
    const t = throughPlaces(s, a, { limitMm: 2, reachMm: 2.6, rise: 1.1 });
    for (const i of t.places) if (Math.hypot(s.x[i]-qx, s.y[i]-qy) < r) {
      const span = closestSpan({contour: contours[s.outline[i]], u: s.u[i]}, {contour: contours[s.outline[a.mate[i]]], u: s.u[a.mate[i]]}, {windowMm: .5});
      console.log(name, 'place', i, s.x[i].toFixed(2), s.y[i].toFixed(2), 'w', a.width[i].toFixed(4), t.widths[i].toFixed(4), 'exits', t.exits[t.strip[i]], 'span', span.lengthMm.toFixed(4), 'mate', a.mate[i]);
    }
    let near = -1, best = 9;
    for (let j = 0; j < s.count; j++) if (a.width[j] < 2 && a.facing[j] > .9) { const d = Math.hypot(a.cx[j]-qx, a.cy[j]-qy); if (d < best) { best = d; near = j; } }
    console.log('near', near, a.width[near], a.mate[near], s.outline[near], s.outline[a.mate[near]], 'strip', t.strip[near], t.exits[t.strip[near]], t.places.filter(i => t.strip[i] === t.strip[near]).map(i => [i, s.x[i].toFixed(2), s.y[i].toFixed(2), a.width[i].toFixed(4), s.outline[i], s.outline[a.mate[i]]].join(' ')));
  }
});
