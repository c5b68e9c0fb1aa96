import { describe, expect, it } from 'vitest';
import { squareFindings } from '../findings/squaring.js';
import { bothRulers } from '../units/format.js';
import { checkSquare } from './check-square.js';
import { asMeasured, holesAt, measure } from './sheets.test-help.js';
import { distancesOf, rectangleDistances } from './spans.js';
import type { CheckSquareOptions, KnownSquareCheck, Measured } from './types.js';
import { mendWords, provesMisjoins, verdictWords } from './verdict-words.js';

const TARGETS = { widthMm: 600, heightMm: 450 };
const NAMES = { upperLeft: 'P', upperRight: 'Q', lowerRight: 'R', lowerLeft: 'S' };
type Corners = readonly (readonly [number, number])[];

const sheet = (corners: Corners, options: CheckSquareOptions = {}) =>
  checkSquare(asMeasured(distancesOf(holesAt(...corners))), options);
const found = (check: ReturnType<typeof checkSquare>, code: string) => {
  const one = squareFindings(check).find((finding) => finding.code === code);
  if (one === undefined) throw new Error(`no ${code} among ${squareFindings(check).map((f) => f.code)}`);
  expect(one.atMm).toBeNull();
  return one;
};
const said = (measured: Measured, code: string, options: CheckSquareOptions = {}) =>
  found(checkSquare(measured, options), code);

describe('readings that can not all be right', () => {
  it('are told with what each would have to be, and the likely one by its slip', () => {
    const readings = measure(600, 450, 600, 450, 760, 750);
    const check = checkSquare(readings, { targets: TARGETS });
    const { message, measure: figures, severity } = found(check, 'square-misreading');
    expect(severity).toBe('fix');
    for (const { span, mm } of check.flat?.wouldBe ?? []) {
      expect(message).toContain(`${span === 'falling' || span === 'rising' ? `${span} diagonal` : `${span} side`} `);
      expect(message).toContain(`${bothRulers(mm)} and not ${readings[span]?.[0]} mm`);
      expect(figures?.[`${span}Mm`]).toBe(mm);
    }
    expect(message).toContain('Most likely it is the falling diagonal, off by 10 mm: measure it again first');
    expect(message).toContain(`it should be near ${bothRulers(750)}.`);
    expect(message).toContain(`off by ${Number((check.flat?.eachOffMm ?? 0).toFixed(1))} mm`);
    expect(figures).toMatchObject({ suspect: 'falling', eachOffMm: check.flat?.eachOffMm });
    const inch = said(measure(600, 450, 600, 450, 750, 750 + 50.8), 'square-misreading', { targets: TARGETS });
    expect(inch.message).toContain('rising diagonal, off by 2 in:');
    const digits = said(measure(600, 450, 600.4, 540, 750, 750), 'square-not-flat', { targets: TARGETS });
    expect(digits.message).toContain('left side, two digits of which were exchanged:');
    const none = said(measure(593, 450, 600, 450, 750, 750), 'square-misreading', { targets: TARGETS });
    expect(none.message).toContain('Most likely it is the top side: measure it again first');
    const nobody = said(measure(617, 450, 600, 468, 750, 750), 'square-not-flat', { targets: TARGETS });
    expect(nobody.message).toContain('measure all six again');
    expect(nobody.measure).not.toHaveProperty('suspect');
  });

  it('of a sheet that did not lie flat are told with how far a hole would be lifted', () => {
    // Four equal triangles of 240, 180 and 290: a disphenoid. Its volume is √((a²+b²−c²)(a²+c²−b²)(b²+c²−a²)/72), a face is Heron's.
    const check = checkSquare(measure(240, 180, 240, 180, 290, 290));
    const { message, measure: figures } = found(check, 'square-not-flat');
    const [a, b, c] = [240 ** 2, 180 ** 2, 290 ** 2];
    const volume = Math.sqrt(((a + b - c) * (a + c - b) * (b + c - a)) / 72);
    const s = (240 + 180 + 290) / 2;
    const face = Math.sqrt(s * (s - 240) * (s - 180) * (s - 290));
    expect(figures?.liftMm).toBeCloseTo((3 * volume) / face, 6);
    expect(message).toContain(`one hole ${Math.round((3 * volume) / face)} mm off the plane`);
  });
});

describe('names in another order', () => {
  it('are told with the distances that are the diagonals, and the holes as they come around', () => {
    // Sides 24, 30, 24, 30 with diagonals 18 and 18, ten times as large: a sheet of 240 by 180 whose lower holes changed names.
    const readings = measure(240, 300, 240, 300, 180, 180);
    const { message, measure: figures } = said(readings, 'square-order', { names: NAMES });
    expect([figures?.falling, figures?.rising].sort()).toEqual(['left', 'right']);
    expect(squareFindings(checkSquare(readings)).map(({ code }) => code)).toEqual(['square-order']);
    expect(message).toContain('exchange the names of hole R (lower right) and hole S (lower left)');
    expect(message).toContain('(or of hole P (upper left) and hole Q (upper right))');
    expect(message).toContain(
      'they come as hole P (upper left), hole Q (upper right), hole S (lower left) and hole R (lower right)',
    );
    expect(message).not.toContain('Even so');
    // The right holes: top and bottom are the diagonals.
    const other = said(measure(300, 180, 300, 180, 240, 240), 'square-order');
    expect(other.message).toContain('exchange the names of the upper right hole and the lower right hole');
    expect([other.measure?.falling, other.measure?.rising].sort()).toEqual(['bottom', 'top']);
    const worse = checkSquare(measure(240, 300, 240, 304, 180, 180));
    expect(worse).toMatchObject({ verdict: 'out-of-order', renamed: null });
    expect(found(worse, 'square-order').message).toContain('Even so');
    const turned = checkSquare(asMeasured(rectangleDistances(450, 600)), { targets: TARGETS });
    expect(squareFindings(turned).map(({ code }) => code)).toEqual(['square-turned']);
    expect(verdictWords(turned)).toContain('width and height exchanged');
    expect(verdictWords(checkSquare(readings))).toContain('out of order');
    expect(mendWords(turned)).toContain('right names');
  });
});

describe('some distances only', () => {
  it('are told one by one: what agrees, what differs, which corners are square', () => {
    const message = (measured: Measured) => said(measured, 'square-unproved').message;
    expect(message({ left: [450], right: [450.4] })).toContain('right side and left side agree within');
    expect(message({ falling: [750], rising: [753.2] })).toContain(
      'falling diagonal and rising diagonal differ by 3.2 mm',
    );
    expect(message({ falling: [750], rising: [750.4] })).toContain('the diagonals agree');
    const corner = message({ top: [300], right: [400], falling: [510] });
    // By the law of cosines.
    const deg = (Math.acos((300 ** 2 + 400 ** 2 - 510 ** 2) / (2 * 300 * 400)) * 180) / Math.PI;
    expect(corner).toContain(`at the upper right hole the sides meet at ${Number(deg.toFixed(2))}°`);
    expect(corner).toContain('so it is not square');
    expect(message({ top: [300], right: [400], falling: [500] })).toContain('which may be square');
    expect(message({ top: [300], right: [400], falling: [510] })).toContain(
      'Not measured: the bottom side, the left side and the rising diagonal. The shape of a sheet takes five',
    );
    expect(message({ top: [600] })).not.toContain('So far');
  });

  it('say when no rectangle has them together though each pair and corner may be right', () => {
    // Both level sides and both upright ones agree; the diagonal alone is too long for them.
    const check = checkSquare({ top: [600], left: [450], falling: [760] });
    expect(check).toMatchObject({ verdict: 'not-square', square: false });
    expect(found(check, 'square-unproved').message).toContain('no rectangle has all of these');
    const corner = checkSquare({ top: [600], right: [450], falling: [760] });
    expect(found(corner, 'square-unproved').message).not.toContain('no rectangle has all of these');
    expect(verdictWords(check)).toBe('not square (3 of six distances measured)');
    expect(verdictWords(checkSquare({ top: [600] }))).toBe('not proved (1 of six distances measured)');
    expect(mendWords(check)).toBe('measure the rest');
    expect(mendWords(checkSquare({ ...measure(600, 450, 600, 450, 750, 1), rising: [] }))).toBe(
      'measure the one that is missing',
    );
  });

  it('spoil joins where sides differ by more than half a mm, and are to be read again where they may not', () => {
    const sides = (by: number) => squareFindings(checkSquare({ top: [600], bottom: [600 + by] }));
    expect(sides(0.5).map(({ code }) => code)).toEqual(['square-unproved']);
    expect(sides(0.75)[0]).toMatchObject({ code: 'square-sides', severity: 'look' });
    expect(sides(-1.25)[0]).toMatchObject({ code: 'square-sides', severity: 'fix', measure: { differenceMm: 1.25 } });
    // Diagonals are no sides.
    expect(squareFindings(checkSquare({ falling: [750], rising: [753] })).map(({ code }) => code)).toEqual([
      'square-unproved',
    ]);
  });
});

describe('what a sheet does, in words', () => {
  it('is the headline of its verdict and what to do', () => {
    const words = (corners: Corners, options: CheckSquareOptions = { targets: TARGETS }) => {
      const check = sheet(corners, options);
      return [verdictWords(check), mendWords(check)];
    };
    expect(
      words([
        [0, 0],
        [600, 0],
        [600, 450],
        [0, 450],
      ]),
    ).toEqual(['square within the error of reading', 'nothing to mend']);
    expect(
      words([
        [0, 0],
        [600, 0],
        [600.8, 450],
        [0.8, 450],
      ]),
    ).toEqual(['not square: it leans by 0.8 mm, 1.8 mm a metre', 'nothing to mend']);
    expect(
      words([
        [0, 0],
        [600, 0],
        [598.8, 450],
        [-1.2, 450],
      ]),
    ).toEqual(['not square: it leans by 1.2 mm, 2.7 mm a metre', 'punch 2 holes again']);
    expect(
      words([
        [0, 0],
        [600, 0],
        [598, 450],
        [0, 450],
      ]),
    ).toEqual(['not square: opposite sides differ by 2 mm, and joins spoil', 'punch one hole again']);
    expect(
      words([
        [0, 0],
        [600, 0],
        [600.4, 450],
        [-0.3, 450],
      ])[1],
    ).toBe('measure again before you punch');
    expect(mendWords(checkSquare(measure(240, 180, 240, 180, 290, 290)))).toBe(
      'press the sheet flat and measure again',
    );
  });

  it('proves joins off where sides do, or a dot that lies beside its place', () => {
    const square = sheet(
      [
        [0, 0],
        [600, 0],
        [600, 450],
        [0, 450],
      ],
      { targets: TARGETS },
    ) as KnownSquareCheck;
    expect(provesMisjoins(square)).toBe(false);
    const dot = { name: 'M', offMm: 2, alongOnly: false };
    expect(
      provesMisjoins({
        ...square,
        extra: [
          { ...dot, ok: true },
          { ...dot, ok: false },
        ],
      }),
    ).toBe(true);
    expect(provesMisjoins({ ...square, extra: [{ ...dot, ok: true }] })).toBe(false);
    expect(
      provesMisjoins(
        sheet([
          [0, 0],
          [600, 0],
          [598, 450],
          [0, 450],
        ]) as KnownSquareCheck,
      ),
    ).toBe(true);
  });

  it('says each corner’s own angle at its own hole', () => {
    const check = sheet(
      [
        [0, 0],
        [600, 0],
        [612, 450],
        [3, 450],
      ],
      { targets: TARGETS, names: NAMES },
    );
    const { message } = found(check, 'square-shape');
    const deg = (x: number, y: number) => Number(((Math.atan2(y, x) * 180) / Math.PI).toFixed(2));
    expect(message).toContain(`${deg(3, 450)}° at hole P (upper left)`);
    expect(message).toContain(`${deg(-12, 450)}° at hole Q (upper right)`);
    expect(message).toContain(`${deg(12, 450)}° at hole R (lower right)`);
    expect(message).toContain(`${deg(-3, 450)}° at hole S (lower left)`);
  });

  it('tells readings that lie too far apart, each by its name', () => {
    const found_ = squareFindings(checkSquare({ top: [600, 600], left: [450, 452.4] }));
    const [one, ...rest] = found_.filter(({ code }) => code === 'square-spread');
    expect(rest).toEqual([]);
    expect(one.message).toContain('The 2 readings of the left side lie up to 1.2 mm from their mean');
    expect(one.measure?.span).toBe('left');
  });

  it('says how often to read each side so that half a mm is told', () => {
    // Means of n readings tell sides of 2e/√n apart: n = (2e / 0.5)².
    const check = (readingErrorMm: number) =>
      sheet(
        [
          [0, 0],
          [600, 0],
          [600.4, 450],
          [-0.3, 450],
        ],
        { targets: TARGETS, readingErrorMm },
      );
    expect(found(check(0.5), 'square-unsettled').message).toContain('each 4 times');
    expect(found(check(0.75), 'square-unsettled').message).toContain('each 9 times');
    const { message, measure: figures } = found(check(0.6), 'square-unsettled');
    expect(message).toContain('each 6 times');
    expect(message).toContain('the top side and the bottom side differ by 0.7 mm');
    expect(figures?.differenceMm).toBeCloseTo(-0.7, 6);
  });
});

describe('the shape of a sheet', () => {
  it('is proved with its width first, in words and in figures', () => {
    const proved = found(
      sheet([
        [0, 0],
        [600, 0],
        [600, 450],
        [0, 450],
      ]),
      'square-proved',
    );
    expect(proved.message).toContain('a rectangle of 600 mm by 450 mm');
    expect(proved.measure?.widthMm).toBeCloseTo(600, 6);
    expect(proved.measure?.heightMm).toBeCloseTo(450, 6);
  });

  it('leans to the side to which its lower side slid, by as much, with a step for joins only where the job is known', () => {
    const leaning = (by: number): Corners => [
      [0, 0],
      [600, 0],
      [600 + by, 450],
      [by, 450],
    ];
    for (const [by, way] of [
      [4, 'right'],
      [-4, 'left'],
    ] as const) {
      const free = found(sheet(leaning(by)), 'square-lean');
      expect(free.message).toContain(`slid 4 mm to the ${way}, ${Number(((1000 * 4) / 450).toFixed(1))} mm a metre`);
      expect(free.message).not.toContain('only the holes lean');
      expect(free.measure?.leanMm).toBeCloseTo(by, 3);
      const ofJob = found(sheet(leaning(by), { targets: TARGETS }), 'square-lean');
      expect(ofJob.message).toContain('joins at the top and bottom are off by 4 mm sideways');
    }
  });

  it('is no rectangle by equal diagonals alone: a trapezoid is told as one, any other by its halves', () => {
    const trapezoid = found(
      sheet([
        [0, 0],
        [600, 0],
        [580, 450],
        [20, 450],
      ]),
      'square-diagonals',
    );
    expect(trapezoid.message).toContain('a trapezoid with equal legs');
    // Diagonals of 750 mm that cross off their middles.
    const at = (deg: number, r: number): readonly [number, number] => [
      400 + r * Math.cos((deg * Math.PI) / 180),
      300 + r * Math.sin((deg * Math.PI) / 180),
    ];
    const other = found(sheet([at(217, 400), at(-37, 330), at(37, 350), at(143, 420)]), 'square-diagonals');
    expect(other.message).toContain('halve each other');
  });
});
