import { writeFileSync } from 'node:fs';
import { Resvg } from '@resvg/resvg-js';
import { createRequire } from 'node:module';
import { contourArea, findNecks, findSlits, type NarrowPlace, type Outline } from '@okuri/core';
import { readSvg } from '@okuri/reader';
import { expect, it } from 'vitest';
import { distanceTo, inkPicture, thinPasses } from './support/distance.js';
import { layMotif, STRAIGHT, tileOf } from './support/pattern.js';

const require = createRequire(import.meta.url);
const SIZE_MM = 60;
const PX = 600;
const PX_PER_MM = PX / SIZE_MM;
const LIMIT_MM = 2;
const EDGE = { x0: 0, y0: 0, x1: SIZE_MM, y1: SIZE_MM };

function outlinesOf(svg: string): Outline[] {
  const motif = readSvg(svg, { widthMm: SIZE_MM });
  const pattern = layMotif(motif, { repeat: STRAIGHT, spill: 'trim' });
  let opening = -1;
  return tileOf(pattern)
    .inks.flatMap((ink) => ink.contours)
    .map((contour) => {
      if (contourArea(contour) > 0) opening++;
      return { contour, opening };
    });
}
function silhouettes(every: number) {
  const { icons } = require(`@iconify-json/game-icons/icons.json`) as { icons: Record<string, { body: string }> };
  return Object.keys(icons).sort().filter((_, k) => k % every === 3).map((key) => ({
      name: key,
      svg: `<svg xmlns="http://www.w3.org/2000/svg" viewBox="-64 -64 640 640">${icons[key].body}</svg>`,
  }));
}
it('x', () => {
  const marks: string[] = [];
  const T = { read: 0, ours: 0, edt: 0, pass: 0 };
  const hist: Record<string, number> = {};
  for (const { name, svg } of silhouettes(60)) {
    let t = performance.now();
    const outlines = outlinesOf(svg);
    T.read += performance.now() - t; t = performance.now();
    const both = [findNecks({ edge: EDGE, outlines }, { limitMm: LIMIT_MM }), findSlits({ edge: EDGE, outlines }, { limitMm: LIMIT_MM })];
    T.ours += performance.now() - t; 
    const pic = inkPicture(svg, PX);
    [1 as const, 0 as const].forEach((value, k) => {
      t = performance.now();
      const D = distanceTo(pic, value);
      T.edt += performance.now() - t; t = performance.now();
      const walls = new Uint8Array(D.length);
      for (const n of both[k]) {
        const at = [n.atMm.x * PX_PER_MM - .5, n.atMm.y * PX_PER_MM - .5];
        const [ix, iy] = [Math.floor(at[0]), Math.floor(at[1])];
        const [fx, fy] = [at[0] - ix, at[1] - iy];
        const d = D[iy*PX+ix]*(1-fx)*(1-fy)+D[iy*PX+ix+1]*fx*(1-fy)+D[(iy+1)*PX+ix]*(1-fx)*fy+D[(iy+1)*PX+ix+1]*fx*fy;
        const dm = Math.max(D[iy*PX+ix],D[iy*PX+ix+1],D[(iy+1)*PX+ix],D[(iy+1)*PX+ix+1]);
        const off = 2 * dm - 1 - n.widthMm * PX_PER_MM;
        const b = Math.round(off * 2) / 2;
        hist[`${k} ${b}`] = (hist[`${k} ${b}`] ?? 0) + 1;
        if (Math.abs(off) > 2) { ((globalThis as any).shots ??= []).push([name, k, n.atMm.x, n.atMm.y]); } if (Math.abs(off) > 2) console.log(name, k, off.toFixed(2), 'w', (n.widthMm*PX_PER_MM).toFixed(2), n.atMm.x.toFixed(2), n.atMm.y.toFixed(2), n.openings, 'len', (n.lengthMm*PX_PER_MM).toFixed(1));
        wall(walls, n, D);
      }
      const passes = thinPasses(D, { widthPx: PX, walls, thickPx: LIMIT_MM*PX_PER_MM/2 + 1.5, thinPx: LIMIT_MM*PX_PER_MM/2 - 1.5 });
      T.pass += performance.now() - t;
      for (const p of passes) {
        const near = both[k].map(n => [Math.hypot(n.atMm.x*PX_PER_MM - p.x, n.atMm.y*PX_PER_MM-p.y), n.widthMm*PX_PER_MM, n.lengthMm*PX_PER_MM]).sort((a,b)=>a[0]-b[0])[0];
        (globalThis as any).shots ??= []; (globalThis as any).shots.push([name, k, p.x/PX_PER_MM, p.y/PX_PER_MM]);
        console.log('PASS', name, k, (p.x/PX_PER_MM).toFixed(2), (p.y/PX_PER_MM).toFixed(2), 'w', (2*p.distancePx-1).toFixed(2), 'near', near?.map(v=>v.toFixed(1)).join(' '));
      }
      console.log(name, k, both[k].length, passes.length);
    });
  }
  console.log(T, hist);
  const want = (process.env.SHOTS ?? '').split(',').filter(Boolean);
  const all = silhouettes(60);
  for (const name of want) {
    const svg = all.find((i) => i.name === name)!.svg;
    const outlines = outlinesOf(svg);
    const necks = findNecks({ edge: EDGE, outlines }, { limitMm: LIMIT_MM });
    const slits = findSlits({ edge: EDGE, outlines }, { limitMm: LIMIT_MM });
    const d = outlines.map(({ contour: { coords: q } }) => { let t = `M${q[0]} ${q[1]}`; for (let k = 2; k < q.length; k += 6) t += `C${[...q.subarray(k, k + 6)].join(' ')}`; return t + 'Z'; }).join('');
    const line = (n: NarrowPlace, c: string) => `<path d="M${n.from.x} ${n.from.y}L${n.to.x} ${n.to.y}" stroke="${c}" stroke-width=".12"/><text x="${n.atMm.x}" y="${n.atMm.y}" font-size=".5" fill="${c}">${n.widthMm.toFixed(2)}</text>`;
    const dots = (globalThis as any).shots.filter((h: any) => h[0] === name).map((h: any) => `<circle cx="${h[2]}" cy="${h[3]}" r=".35" fill="none" stroke="${h[1] ? 'lime' : 'magenta'}" stroke-width=".12"/>`).join('');
    const out = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="5 5 50 50" width="1500"><rect width="60" height="60" fill="white"/><path d="${d}" fill="#999"/>${necks.map(n => line(n, 'red')).join('')}${slits.map(n => line(n, 'blue')).join('')}${dots}</svg>`;
    writeFileSync(`/tmp/shot-${name}.png`, new Resvg(out, {font:{loadSystemFonts:true}}).render().asPng());
  }
}, 600000);
function wall(walls: Uint8Array, n: NarrowPlace, material: Float64Array): void {
  const [x0,y0,x1,y1] = [n.from.x,n.from.y,n.to.x,n.to.y].map(v=>v*PX_PER_MM-.5);
  const len = Math.hypot(x1-x0,y1-y0)||1;
  const [ux,uy]=[(x1-x0)/len,(y1-y0)/len];
  const ends = [[x0,y0,-1],[x1,y1,1]].map(([x,y,s]) => { let k = 0; for (; k < 6; k += .5) { if (material[Math.round(y+s*uy*k)*PX+Math.round(x+s*ux*k)] === 0) break; } return k + 1; });
  for (let y=Math.floor(Math.min(y0,y1))-8;y<=Math.max(y0,y1)+8;y++) for (let x=Math.floor(Math.min(x0,x1))-8;x<=Math.max(x0,x1)+8;x++) {
    const a=(x-x0)*ux+(y-y0)*uy, b=(x-x0)*uy-(y-y0)*ux;
    if (a>-ends[0]&&a<len+ends[1]&&Math.abs(b)<=1) walls[y*PX+x]=1;
  }
}
