import { createRequire } from 'node:module';
import { readFileSync, writeFileSync } from 'node:fs';
import { Resvg } from '@resvg/resvg-js';
import { contourArea, findNecks, findSlits, type NarrowPlace, type Outline } from '@okuri/core';
import { readSvg } from '@okuri/reader';
import { it } from 'vitest';
import { layMotif, STRAIGHT, tileOf } from './support/pattern.js';
const require = createRequire(import.meta.url);
const EDGE = { x0: 0, y0: 0, x1: 48, y1: 48 };
it('x', () => {
  const { icons } = require(`@iconify-json/game-icons/icons.json`) as any;
  const log = readFileSync('/tmp/necks.log', 'utf8').split('\n');
  for (const spec of (process.env.SHOTS ?? '').split(',')) {
    const [name, box] = spec.split(':');
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="-64 -64 640 640">${icons[name].body}</svg>`;
    let opening = -1;
    const outlines: Outline[] = tileOf(layMotif(readSvg(svg, { widthMm: 48 }), { repeat: STRAIGHT, spill: 'trim' })).inks.flatMap((k) => k.contours).map((contour) => { if (contourArea(contour) > 0) opening++; return { contour, opening }; });
    const necks = findNecks({ edge: EDGE, outlines }, { limitMm: 2 });
    const slits = findSlits({ edge: EDGE, outlines }, { limitMm: 2 });
    const d = outlines.map(({ contour: { coords: q } }) => { let t = `M${q[0]} ${q[1]}`; for (let k = 2; k < q.length; k += 6) t += `C${[...q.subarray(k, k + 6)].join(' ')}`; return t + 'Z'; }).join('');
    const vb = (box ?? '5 5 50 50').split(/[ _]/).map(Number);
    const z = vb[2] / 50;
    const line = (n: NarrowPlace, c: string) => `<path d="M${n.from.x} ${n.from.y}L${n.to.x} ${n.to.y}" stroke="${c}" stroke-width="${.12*z}"/><circle cx="${n.atMm.x}" cy="${n.atMm.y}" r="${.1*z}" fill="${c}"/><text x="${n.atMm.x}" y="${n.atMm.y}" font-size="${.6*z}" fill="${c}">${n.widthMm.toFixed(2)}/${n.lengthMm.toFixed(1)}</text>`;
    const dots = log.map((l) => /^PASS (\S+) ([01]) (\S+) (\S+)/.exec(l) ?? /^(\S+) ([01]) -?[0-9.]+ w \S+ (\S+) (\S+)/.exec(l)).filter((m) => m && m[1] === name).map((m) => `<circle cx="${m![3]}" cy="${m![4]}" r="${.5*z}" fill="none" stroke="${m![0].startsWith('PASS') ? (m![2]==='1' ? 'lime' : 'magenta') : 'orange'}" stroke-width="${.15*z}"/>`).join('');
    const out = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="${vb.join(' ')}" width="560" height="560"><rect x="${vb[0]}" y="${vb[1]}" width="60" height="60" fill="white"/><path d="${d}" fill="#bbb"/>${necks.map(n => line(n, 'red')).join('')}${slits.map(n => line(n, 'blue')).join('')}${dots}</svg>`;
    writeFileSync(`/tmp/shot-${name}-${Math.round(vb[0])}.png`, new Resvg(out, {font:{loadSystemFonts:true}}).render().asPng());
  }
});
