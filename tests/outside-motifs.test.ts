import { readFileSync } from 'node:fs';
import type { Motif } from '@okuri/core';
import { readSvg } from '@okuri/reader';
import { describe, expect, it } from 'vitest';
import { perimeter } from './support/flatten.js';
import { HALF_BRICK, HALF_DROP, layMotif, openArea, STRAIGHT, tileOf } from './support/pattern.js';
import { inkCoverage } from './support/render.js';

function text(name: string): string {
  return readFileSync(new URL(`../fixtures/${name}`, import.meta.url), 'utf8');
}

function motifOf(name: string): Motif {
  return readSvg(text(name));
}

const toMend = (findings: readonly { readonly severity: string }[]) =>
  findings.filter((f) => f.severity === 'fix' || f.severity === 'stop');

describe('small motifs, by how they were drawn', () => {
  it('drawn up to the edge: every join meets', () => {
    const { joins, findings } = layMotif(motifOf('motifs/straight.svg'), { repeat: STRAIGHT });
    // Two leaves and one wave cross a seam, two ends each.
    expect(joins).toHaveLength(6);
    expect(joins.filter((j) => j.state !== 'meets')).toEqual([]);
    for (const j of joins) {
      expect(Math.abs(j.offsetMm as number)).toBeLessThan(0.001);
      expect(j.kinkDeg as number).toBeLessThan(0.1);
    }
    expect(toMend(findings)).toEqual([]);
  });

  it('one half leaf 1 mm too low: its two ends are off by 1 mm, and nothing else is', () => {
    const { joins, findings } = layMotif(motifOf('motifs/straight-off-by-1mm.svg'), { repeat: STRAIGHT });
    expect(joins).toHaveLength(6);
    const off = joins.filter((j) => j.state === 'off');
    expect(off.map((j) => j.seam)).toEqual(['right', 'right']);
    // The right half sits lower: seen from the right side, its partner lies 1 mm higher up.
    for (const j of off) expect(j.offsetMm as number).toBeCloseTo(-1, 2);
    expect(off.map((j) => j.atMm).sort()).toEqual([expect.closeTo(23, 2), expect.closeTo(39, 2)]);
    for (const j of joins.filter((one) => !off.includes(one)))
      expect(Math.abs(j.offsetMm as number)).toBeLessThan(0.001);
    // 1 mm shows at an opening 16 mm wide, as at any: from 0.8 mm on it is to be mended.
    const said = findings.filter((f) => f.code.startsWith('join'));
    expect(said.map((f) => [f.code, f.severity])).toEqual([
      ['join-off', 'fix'],
      ['join-off', 'fix'],
    ]);
  });

  it('checks that touch in points and bars that abut: nothing to mend', () => {
    const { findings, openings } = layMotif(motifOf('motifs/brick-checks.svg'), { repeat: HALF_BRICK });
    expect(toMend(findings)).toEqual([]);
    // Bars end to end run on for ever; checks hold by points only, or are joined through the seam to their neighbours.
    expect(openings.filter((o) => o.rank > 0).length).toBeGreaterThanOrEqual(1);
    expect(openArea(openings)).toBeCloseTo(4 * 400 + 480 + 16, 6);
  });

  it('three inks: each as much as is seen of it, carried round', () => {
    const { openings, joins, findings } = layMotif(motifOf('motifs/colours.svg'), { repeat: HALF_DROP });
    const area = (ink: string) => openArea(openings.filter((o) => o.ink === ink));
    expect(new Set(openings.map((o) => o.ink))).toEqual(new Set(['#009e73', '#d55e00', '#0072b2']));
    // Worked: discs of 4, 4 and 3 mm; a disc of 11 less one of 4; one of 12 less the paper ring's 7.
    expect(area('#0072b2')).toBeCloseTo(Math.PI * (16 + 16 + 9), 2);
    expect(area('#d55e00')).toBeCloseTo(Math.PI * (121 - 16 + 144 - 49), 2);
    expect(joins.filter((j) => j.state !== 'meets')).toEqual([]);
    expect(toMend(findings)).toEqual([]);
  });

  it('strokes only: the vine runs on over the seams', () => {
    const { openings, joins, findings } = layMotif(motifOf('motifs/stroke-vine.svg'), { repeat: STRAIGHT });
    expect(openings.filter((o) => o.rank === 1)).toHaveLength(1);
    expect(openings.filter((o) => o.rank === 2)).toHaveLength(0);
    expect(joins.filter((j) => j.state !== 'meets')).toEqual([]);
    expect(toMend(findings)).toEqual([]);
  });
});

describe('areas against an independent renderer (resvg 2.6.2)', () => {
  // resvg takes 4 × 4 samples a pixel: it moves edges by at most 1/8 px.
  const pxPerMm = 8;

  it.each([
    { name: 'motifs/straight.svg', spill: 'trim' as const },
    { name: 'motifs/straight-off-by-1mm.svg', spill: 'trim' as const },
    { name: 'motifs/brick-checks.svg', spill: 'trim' as const },
    { name: 'motifs/stroke-vine.svg', spill: 'trim' as const },
  ])('$name', ({ name, spill }) => {
    const motif = motifOf(name);
    const pattern = layMotif(motif, { spill });
    const drawn = inkCoverage(text(name), motif.frame.widthMm * pxPerMm).inkPx2 / pxPerMm ** 2;
    const length = perimeter(tileOf(pattern).inks.flatMap((i) => i.contours));
    expect(Math.abs(openArea(pattern.openings) - drawn)).toBeLessThan(length / 8 / pxPerMm);
  });

  it('the demo, all its copies laid side by side', () => {
    const motif = motifOf('demo/motif.svg');
    const source = text('demo/motif.svg');
    const body = source.slice(source.indexOf('<g'), source.lastIndexOf('</svg>'));
    const copies: string[] = [];
    for (let i = -1; i <= 1; i++) {
      for (let j = -2; j <= 2; j++) copies.push(`<use href="#m" x="${i * 300}" y="${i * 210 + j * 420}"/>`);
    }
    // Paper is painted over, not cleared: it has to be told from ink by its colour. Ink is made opaque, paper a hole, by a mask.
    const masked = body.replaceAll('fill="#000000"', 'fill="#ffffff"').replaceAll('<path id="', '<path data-id="');
    const inverted = masked.replace(/fill="#ffffff" d=/g, 'fill="#000000" d=');
    const svg =
      `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 300 420" width="300" height="420"><defs><g id="m">${inverted}</g>` +
      `<mask id="k" maskUnits="userSpaceOnUse" x="0" y="0" width="300" height="420">${copies.join('')}</mask></defs>` +
      '<rect width="300" height="420" mask="url(#k)"/></svg>';
    const px = 4;
    const drawn = inkCoverage(svg, 300 * px).inkPx2 / px ** 2;
    const pattern = layMotif(motif, { repeat: HALF_DROP });
    const length = perimeter(tileOf(pattern).inks.flatMap((i) => i.contours)) / 2;
    // Over so many edges the samples' errors mostly cancel: 0.012 px was found.
    expect(Math.abs(openArea(pattern.openings) - drawn)).toBeLessThan(length / 50 / px);
  });
});
