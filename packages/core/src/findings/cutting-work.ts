import { boxMiddle } from '../geometry/boxes.js';
import type { Point } from '../geometry/types.js';
import type { Finding } from '../motif/finding.js';
import type { CutAway, LongOpening, OpeningWork, PaperReport, PaperRules } from '../strength/types.js';
import { rounded } from '../units/round.js';
import { shareText } from '../units/words.js';

/** A band of which more is cut away is looked at (common practice, no published source). */
export const WEAK_BAND_SHARE = 0.65;
/** An opening this many times as long as the span sags and catches whatever the hand does (common practice, no published source). */
const FAR_TOO_LONG = 2;

/** The parts of a report that tell about the work. */
export interface WorkReport extends Pick<PaperReport, 'longOpenings' | 'cutAway'> {
  readonly rules: Pick<PaperRules, 'spanMm' | 'turnMm'>;
  readonly workOf: readonly OpeningWork[];
}

export interface WorkFindingOptions {
  /** Gauze is stuck over the sheet before it prints: what asks for it is answered, and is no more to mend than to be known. */
  readonly gauze: boolean;
  /** The number of an opening that people are shown. */
  readonly name: (opening: number) => string;
  /** Sheet mm to the unit's mm. */
  readonly place: (p: Point) => Point;
}

/**
 * What to say about long openings (a `look`; a `fix` above twice the span), about the band of which most is cut away (a `look` above 65 %), about
 * jerky outlines (a `look`), and about bends tighter than the blade turns (a `note`): one finding for each opening, in the order given.
 */
export function workFindings(report: WorkReport, options: WorkFindingOptions): Finding[] {
  const { rules, longOpenings, cutAway, workOf } = report;
  return [
    ...longOpenings.map((long) => longFinding(long, rules, options)),
    ...bandFindings(cutAway, options),
    ...workOf.flatMap((work) => jerkFindings(work, options)),
    ...workOf.flatMap((work) => tightFindings(work, rules, options)),
  ];
}

function longFinding(
  { opening, lengthMm, at }: LongOpening,
  { spanMm }: WorkReport['rules'],
  { gauze, name, place }: WorkFindingOptions,
): Finding {
  const number = name(opening);
  const far = lengthMm > FAR_TOO_LONG * spanMm;
  return {
    code: 'opening-long',
    topic: 'paper',
    severity: far && !gauze ? 'fix' : far || !gauze ? 'look' : 'note',
    message:
      `Opening ${number} runs on for ${lengthMm.toFixed(0)} mm without a tie, ` +
      `${far ? 'more than twice' : 'more than'} the ${trimmed(spanMm)} mm that this paper spans: ` +
      longTodo(far, gauze),
    atMm: place(at),
    measure: { lengthMm: rounded(lengthMm), spanMm, opening: number },
  };
}

function longTodo(far: boolean, gauze: boolean): string {
  if (gauze) return 'the gauze has to hold its edges: see that it is stuck down well across its middle.';
  return far
    ? 'leave ties across it or put gauze over the sheet.'
    : 'see whether its edges stay put, or leave a tie across it.';
}

function bandFindings(
  { bandShare, weakestBand: band, share }: CutAway,
  { gauze, place }: WorkFindingOptions,
): Finding[] {
  if (!(bandShare > WEAK_BAND_SHARE)) return [];
  const middle = boxMiddle(band);
  const { x, y } = place(middle);
  const upright = band.y1 - band.y0 >= band.x1 - band.x0;
  const widthMm = upright ? band.x1 - band.x0 : band.y1 - band.y0;
  const where = upright ? `upright around x = ${trimmed(x)} mm` : `level around y = ${trimmed(y)} mm`;
  return [
    {
      code: 'cut-away-band',
      topic: 'paper',
      severity: gauze ? 'note' : 'look',
      message:
        `Of a band ${trimmed(widthMm)} mm wide, ${where}, ${shareText(bandShare)} is cut away ` +
        `(${shareText(share)} of the whole sheet): lift the sheet there with both hands${gauze ? ' until the gauze is dry' : ', or strengthen it with ties or gauze'}.`,
      atMm: { x, y },
      measure: { bandShare: rounded(bandShare), share: rounded(share), widthMm: rounded(widthMm) },
    },
  ];
}

function jerkFindings({ opening, jerks, jerkAt }: OpeningWork, { name, place }: WorkFindingOptions): Finding[] {
  if (jerks === 0) return [];
  const number = name(opening);
  const where = jerks === 1 ? 'at one place' : `at ${jerks} places`;
  return [
    {
      code: 'outline-jerky',
      topic: 'paper',
      severity: 'look',
      message: `The outline of opening ${number} jerks ${where}, as a bad trace does: draw one smooth line there, or the knife follows every jerk.`,
      atMm: jerkAt ? place(jerkAt) : null,
      measure: { jerks, opening: number },
    },
  ];
}

function tightFindings(
  { opening, tightMm, tightPlaces, tightAt }: OpeningWork,
  { turnMm }: WorkReport['rules'],
  { name, place }: WorkFindingOptions,
): Finding[] {
  if (tightPlaces === 0) return [];
  const number = name(opening);
  const where = tightPlaces === 1 ? 'at one place' : `at ${tightPlaces} places`;
  return [
    {
      code: 'curve-tight',
      topic: 'paper',
      severity: 'note',
      message:
        `The outline of opening ${number} bends tighter than a radius of ${trimmed(turnMm)} mm ${where}, ` +
        `${tightMm.toFixed(1)} mm in all: turn the sheet under a pointed blade there, or punch the round.`,
      atMm: tightAt ? place(tightAt) : null,
      measure: {
        tightMm: rounded(tightMm),
        tightPlaces,
        turnMm,
        opening: number,
      },
    },
  ];
}

/** Tenths at most, no zero at the end. */
function trimmed(mm: number): string {
  return String(Math.round(mm * 10) / 10 + 0);
}
