import { describe, expect, it } from 'vitest';
import { foldFindings } from '../motif/fold-findings.js';
import { isSevere } from '../strength/severe.js';
import type { NarrowPlace, PaperRules, Tongue } from '../strength/types.js';
import { narrowFindings } from './narrow.js';

const RULES: PaperRules = {
  neckMm: 2,
  slitMm: 0.8,
  spanMm: 50,
  tongueRatio: 3,
  stroke: 'up',
  turnMm: 1.5,
};

const NECK: NarrowPlace = {
  widthMm: 1.234,
  from: { x: 10, y: 5 },
  to: { x: 11.234, y: 5 },
  atMm: { x: 10.617, y: 5 },
  lengthMm: 4,
  openings: [0, 1],
  weak: false,
  hangsMm2: 0,
};

const TONGUE: Tongue = { rootMm: 2, lengthMm: 12, root: { x: 20, y: 8 }, tip: { x: 20, y: 20 }, opening: 1 };

const options = {
  gauze: false,
  name: (opening: number): string => String(opening + 7),
  place: ({ x, y }: { x: number; y: number }) => ({ x: x - 10, y: y - 5 }),
};

function said(parts: Partial<Parameters<typeof narrowFindings>[0]>, { gauze = false } = {}) {
  return narrowFindings({ necks: [], slits: [], tongues: [], rules: RULES, ...parts }, { ...options, gauze });
}

describe('findings about narrow places', () => {
  it('are notes, and fixes only where the place is long for its width or much hangs on it', () => {
    const places: [Partial<NarrowPlace>, boolean][] = [
      [{}, false],
      [{ lengthMm: 6.16 }, false],
      [{ lengthMm: 6.18 }, true],
      [{ weak: true, hangsMm2: 150 }, false],
      [{ weak: true, hangsMm2: 150.1 }, true],
    ];
    for (const [part, grave] of places) {
      const place = { ...NECK, ...part };
      expect(isSevere(place)).toBe(grave);
      expect(said({ necks: [place] })[0].severity).toBe(grave ? 'fix' : 'note');
      expect(said({ slits: [{ ...place, openings: [0, 0] }] })[0].severity).toBe(grave ? 'fix' : 'note');
    }
  });

  it('ask for no gauze where it is to come, and are nothing to mend then', () => {
    const grave = { ...NECK, weak: true, hangsMm2: 203.4 };
    const [neck] = said({ necks: [grave] }, { gauze: true });
    expect(neck).toMatchObject({ code: 'neck', severity: 'look' });
    expect(neck.message).toContain('the gauze has to hold it; until that is dry cut it last');
    expect(said({ necks: [NECK] }, { gauze: true })[0].severity).toBe('note');
    const [tongue] = said({ tongues: [TONGUE], rules: { ...RULES, stroke: 'up' } }, { gauze: true });
    expect(tongue).toMatchObject({ code: 'tongue', severity: 'note' });
    expect(tongue.message).toMatch(
      /may lift: see that the gauze is stuck down well at its tip and root, or stroke downward instead\.$/,
    );
    // A slit is no matter of gauze.
    const slit = { ...grave, openings: [0, 0] as const };
    expect(said({ slits: [slit] }, { gauze: true })[0].severity).toBe('fix');
  });

  it('name the openings, the width, the length and what hangs, and lie on the unit', () => {
    const [neck] = said({ necks: [{ ...NECK, weak: true, hangsMm2: 203.4 }] });
    expect(neck).toEqual({
      code: 'neck',
      topic: 'paper',
      severity: 'fix',
      message:
        'The paper between openings 7 and 8 is only 1.2 mm wide over 4.0 mm (at least 2.0 mm asked for), and 203 mm² of paper hang on it alone: ' +
        'widen it, leave a tie beside it, or glue a strip or gauze over it.',
      atMm: { x: 10.617 - 10, y: 0 },
      measure: { widthMm: 1.234, lengthMm: 4, limitMm: 2, weak: 'yes', hangsMm2: 203.4, openings: '7, 8' },
    });
    expect(said({ necks: [{ ...NECK, openings: [-1, 1] }] })[0].message).toContain('between opening 8 and the edge');
    expect(said({ necks: [{ ...NECK, openings: [1, 1] }] })[0].message).toContain('beside opening 8 is');
    expect(said({ slits: [{ ...NECK, widthMm: 0.456, lengthMm: 0.01, openings: [0, 0] }] })[0].message).toBe(
      'Opening 7 is only 0.46 mm wide (at least 0.80 mm asked for): widen it, or look at it in the proof.',
    );
  });

  it('tell of tongues only where they point into the stroke, with a better one', () => {
    // Its tip is below its root: a spatula on its way up comes upon the tip first.
    const [finding, ...rest] = said({ tongues: [TONGUE] });
    expect(rest).toEqual([]);
    expect(finding).toEqual({
      code: 'tongue',
      topic: 'paper',
      severity: 'look',
      message:
        'A tongue of paper in opening 8, 12.0 mm long on a root of 2.0 mm, points into the stroke (upward) and may lift: ' +
        'stroke downward instead, leave a tie at its tip, or put gauze over it.',
      atMm: { x: 10, y: 15 },
      measure: { lengthMm: 12, rootMm: 2, opening: '8', stroke: 'up', betterStroke: 'down' },
    });
    for (const stroke of ['down', 'left', 'right'] as const) {
      expect(said({ tongues: [TONGUE], rules: { ...RULES, stroke } })).toEqual([]);
    }
  });

  it('fold to the narrowest', () => {
    const necks = [1.5, 0.6, 1.1, 1.9].map((widthMm) => ({ ...NECK, widthMm, lengthMm: 1 }));
    const narrower = (p: { measure: unknown }, q: { measure: unknown }): number =>
      (p.measure as { widthMm: number }).widthMm - (q.measure as { widthMm: number }).widthMm;
    const [folded, ...rest] = foldFindings(said({ necks }), { limit: 3, worse: narrower });
    expect(rest).toEqual([]);
    expect(folded.measure).toMatchObject({ widthMm: 0.6, alike: 4 });
  });
});
