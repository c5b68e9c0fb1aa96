import { describe, expect, it } from 'vitest';
import { labelFont } from '../../draw/label-font.test-help.js';
import { COLOURS } from '../../draw/palette.js';
import type { Drawing, Item, PathItem, TextItem } from '../../draw/types.js';
import { cutGuideDrawing } from '../../job/drawings.js';
import { proofDrawing, proofFormDrawings, proofMapDrawing } from '../../job/proof-drawings.js';
import { judgedSheets } from '../../job/result.js';
import { secondCutJob, someOffsets } from '../../job/second-cut-job.test-help.js';
import type { ProofReport } from '../../proof/types.js';
import { stencilDrawing } from '../cartoon/stencil-drawing.js';
import { labelFaults } from '../sheet/label-check.js';

const font = labelFont();
const planned = secondCutJob({ repeat: 'half-drop' });
const offsets = someOffsets(planned);
const proved = secondCutJob({ repeat: 'half-drop' }, offsets);
const ends = planned.sheets[0].ends ?? { joins: [], firstCutEnds: [] };
const names = [...ends.joins, ...ends.firstCutEnds].map(({ name }) => name);

function flat(items: readonly Item[]): Item[] {
  return items.flatMap((item) => (item.kind === 'clip' || item.kind === 'layer' ? flat(item.items) : [item]));
}

const textsOf = (items: readonly Item[]) => flat(items).filter((i): i is TextItem => i.kind === 'text');

function pagesWith(drawing: Drawing, heading: string) {
  return drawing.pages.filter(({ items }) => textsOf(items).some(({ text }) => text.startsWith(heading)));
}

describe('the guide', () => {
  it('has a second part by the proof: margins with every name, and the openings to tick off with what moved', () => {
    const guide = cutGuideDrawing(proved, font);
    const margins = pagesWith(guide, 'The held margin of').flatMap(({ items }) =>
      textsOf(items).map(({ text }) => text),
    );
    for (const name of names) expect(margins.filter((text) => text === name)).toEqual([name]);
    const all = guide.pages.flatMap(({ items }) => textsOf(items).map(({ text }) => text));
    const [join] = ends.joins;
    expect(all.some((text) => text.includes(`${join.name} 0.4 down`))).toBe(true);
    expect(pagesWith(guide, 'Once the first cut is done')).toEqual([]);
    const first = guide.pages.indexOf(pagesWith(guide, 'The second cut, by the proof')[0]);
    const list = guide.pages.slice(first, first + 2).flatMap(({ items }) => textsOf(items));
    const listed = new Set(
      list.filter(({ bold, text }) => bold && /^\d+\.?$/.test(text)).map(({ text }) => Number(text)),
    );
    for (const { number, secondCut } of proved.sheets[0].openings) {
      if (secondCut.length > 0) expect(listed.has(number)).toBe(true);
    }
  });

  it('has the proof map and the form where there is no proof yet, on two pages more', () => {
    const guide = cutGuideDrawing(planned, font);
    expect(pagesWith(guide, 'Once the first cut is done')).toHaveLength(1);
    expect(pagesWith(guide, 'Measured at the joins')).toHaveLength(1);
    expect(pagesWith(guide, 'The second cut, by the proof')).toEqual([]);
  });
});

describe('the form', () => {
  it('has a row for every end, and a box to write in for all that a proof shows', () => {
    const [form] = proofFormDrawings(planned, font);
    const items = form.pages.flatMap((page) => flat(page.items));
    const said = textsOf(items).map(({ text }) => text);
    for (const name of names) expect(said.filter((text) => text === name)).toEqual([name]);
    const boxes = items.filter(
      (i): i is PathItem => i.kind === 'path' && i.contours[0].closed && i.line?.widthMm === 0.25,
    );
    expect(boxes).toHaveLength(names.length - ends.joins.filter(({ leadCut }) => leadCut === 'second').length);
    expect(said).toContain(`upper ${ends.joins[0].own}`);
  });
});

describe('the proof map', () => {
  it('fits on one page and says which dot lands on which', () => {
    const map = proofMapDrawing(planned, font);
    expect(map.pages).toHaveLength(1);
    const said = textsOf(map.pages[0].items).map(({ text }) => text);
    // The three placements of a half-drop: A of the one below on E, B on D.
    for (const text of ['2 on 1', '3 on 1', '3 on 2']) expect(said).toContain(text);
    const whole = said.join(' ');
    for (const text of ['A on E, B on D (pencil)', 'A on C (pencil), F on D (pencil)', 'E on C (pencil), F on B'])
      expect(whole).toContain(text);
    for (const order of ['1', '2', '3']) expect(said).toContain(order);
    expect(said.join(' ')).toMatch(/Scale 1 : [\d.]+/);
    const shown = said.filter((text) => /^J\d/.test(text)).join(', ');
    for (const { name } of [ends.joins[0], ends.joins[ends.joins.length - 1]]) expect(shown).toContain(name);
  });

  it('has nobody land on a dot that does not print without a pencil mark', () => {
    const [sheet] = planned.sheets;
    const prints = new Set(sheet.dots.filter(({ lead }) => lead).map(({ name }) => name));
    const guide = pagesWith(cutGuideDrawing(planned, font), 'Once the first cut is done');
    for (const pages of [proofMapDrawing(planned, font).pages, guide]) {
      const said = pages.flatMap(({ items }) => textsOf(items).map(({ text }) => text));
      const landings = [...said.join(' ').matchAll(/\b[A-F] on ([A-F])( \(pencil\))?/g)];
      expect(landings.length).toBeGreaterThan(0);
      for (const [, name, pencil] of landings) expect(pencil !== undefined).toBe(!prints.has(name));
      expect(said.join(' ')).toMatch(
        /Before you lift the sheet, make a small pencil dot through C and D of print 1, C of print 2\./,
      );
    }
  });

  it('shows four placements of a straight repeat, and two where nothing meets the right side', () => {
    const orders = (keys: object) =>
      textsOf(proofMapDrawing(secondCutJob(keys), font).pages[0].items).flatMap(({ text, sizeMm }) =>
        sizeMm > 10 ? [text] : [],
      );
    expect(orders({ repeat: 'straight' })).toEqual(['1', '2', '3', '4']);
    expect(orders({ repeat: 'straight', cloth: { width: '0.6m', length: '3m' } })).toEqual(['1', '2']);
  });
});

describe('the cutting drawing', () => {
  it('names joins in a layer of their own, on no cut', () => {
    const [sheet] = judgedSheets(planned);
    const { pages } = stencilDrawing(sheet, { title: 'Reed bars', date: '2026-05-04', statements: [], font });
    const layer = pages[0].items.find((i) => i.kind === 'layer' && i.id === 'joins');
    const named = layer?.kind === 'layer' ? textsOf(layer.items).map(({ text }) => text) : [];
    expect(named.length).toBeGreaterThan(ends.joins.length / 2);
    expect(labelFaults(sheet, pages[0].items, { font, layers: ['labels', 'dots', 'joins'] })).toEqual([]);
    const bare = { ...sheet, ends: { joins: [], firstCutEnds: [] } };
    const without = stencilDrawing(bare, { title: '', date: '', statements: [], font });
    expect(without.pages[0].items.some((i) => i.kind === 'layer' && i.id === 'joins')).toBe(false);
  });
});

describe('the proof over the plan', () => {
  const [sheet] = planned.sheets;
  const [lost, ...rest] = sheet.openings.filter(({ firstCut }) => firstCut.length > 0);
  const lead = rest.find(({ box }) => box.x0 < sheet.field.x0 + 1) ?? rest[0];
  const report: ProofReport = {
    laid: {
      toSheet: [1, 0, 0, 0, 1, 0, 0, 0, 1],
      by: 'dots',
      frame: 'rigid',
      scale: null,
      dots: sheet.dots.map(({ name, at }) => ({ name, at, offMm: 0.05 })),
      missingDots: [],
      pixelsPerMm: 300 / 25.4,
      agreement: 0.98,
    },
    spreadMm: 0.1,
    leadEdges: [
      {
        number: lead.number,
        sides: ['left'],
        meanMm: 0.1,
        worstMm: -0.62,
        worstAt: { x: sheet.field.x0 + 2, y: lead.box.y0 },
        shownShare: 1,
        joins: [ends.joins[0].name],
      },
    ],
    offsets,
    printedOffsets: [],
    unmeasured: [],
    differences: [
      { kind: 'missing', number: lost.number, areaMm2: lost.areaMm2, deepMm: 3, at: lost.labelAt, box: lost.box },
    ],
    heldShare: 0,
    distances: null,
    square: null,
    printed: rest.flatMap(({ firstCut }) => firstCut),
  };
  const drawing = proofDrawing(planned, { sheet, report }, font);

  it('says what it was laid by, what is missing, and how far the worst edge lies off', () => {
    const said = drawing.pages.flatMap(({ items }) => textsOf(items).map(({ text }) => text));
    expect(said).toContain(`${lost.number} missing`);
    expect(said).toContain(`${lead.number}: −0.6`);
    expect(said.join(' ')).toContain('300 dpi');
    expect(said.join(' ')).toContain('0.62 mm smaller than planned');
    expect(said.join(' ')).toContain('Differences, not faults');
  });

  it('hatches what is missing, tints what printed, and has the plan on top', () => {
    const paths = flat(drawing.pages[0].items).filter((i): i is PathItem => i.kind === 'path');
    const last = (found: (p: PathItem) => boolean) => paths.findLastIndex(found);
    const hatched = paths.filter((p) => p.line?.colour === COLOURS.vermillion && p.line.widthMm === 0.3);
    expect(hatched.length).toBeGreaterThan(1);
    const tint = last((p) => p.fill === '#dcdcdc');
    const plan = last((p) => p.line?.widthMm === 0.13 && p.line.colour === COLOURS.black);
    expect(tint).toBeGreaterThan(0);
    expect(plan).toBeGreaterThan(tint);
  });
});
