import type { Finding } from '../motif/finding.js';
import { measuredCorners, measuredPairs } from '../register/partial.js';
import { SIDES_FIX_MM } from '../register/repunch.js';
import { degText, holeName, kindText, spanName } from '../register/say.js';
import { CORNERS, SPANS } from '../register/spans.js';
import type {
  Corner,
  FlatCheck,
  NotEnoughCheck,
  OutOfOrderCheck,
  PartlyNotSquareCheck,
  ReadingErrorKind,
  Span,
  SquareCheck,
  UnsettledCheck,
} from '../register/types.js';
import { MM_PER_INCH } from '../units/constants.js';
import { bothRulers, formatMm } from '../units/format.js';
import { listText } from '../units/words.js';
import { finding } from './holes-finding.js';
import { shapeFindings, sidesFinding } from './shape.js';

/**
 * What a person should know of a checked sheet; every finding belongs to the check's one verdict. Codes: `square-misreading`, `square-not-flat`,
 * `square-order`, `square-turned`, `square-unsettled`, `square-sides`, `square-extra` (`fix`); `square-lean` (`fix` where holes are to be punched again, else
 * `look`); `square-extra-side`, `square-spread`, `square-size`, `square-unproved` (`look`); `square-shape`, `square-diagonals`, `square-proved`, `square-moved` (`note`). Holes are
 * named by their place; `atMm` is null, since the sheet's frame is not the unit's.
 */
export function squareFindings(check: SquareCheck): Finding[] {
  return [...verdictFindings(check), ...spreadFindings(check)];
}

function verdictFindings(check: SquareCheck): Finding[] {
  switch (check.verdict) {
    case 'square':
      return shapeFindings(check);
    case 'not-square':
      return check.shape === null ? unprovedFindings(check) : shapeFindings(check);
    case 'unsettled':
      return [unsettledFinding(check)];
    case 'misreading':
      return [check.flat.verdict === 'possible' ? reflexFinding() : misreadingFinding(check.flat)];
    case 'not-flat':
      return [notFlatFinding(check.flat)];
    case 'out-of-order':
      return orderFindings(check);
    case 'not-enough':
      return unprovedFindings(check);
  }
}

/** The findings' sentences, the gravest first as they come. */
export function squareSentences(check: SquareCheck): string[] {
  return squareFindings(check).map(({ message }) => message);
}

/** What the sheet would need to be flat: words and measures that both findings about it share. */
function flatWords(flat: FlatCheck) {
  const list = flat.wouldBe
    .map(({ span, readMm, mm }) => `${spanName(span)} ${bothRulers(mm)} and not ${formatMm(readMm, 1)}`)
    .join('; ');
  const { suspect } = flat;
  const blame =
    suspect === null
      ? "The readings alone don't tell which of the six is wrong: measure all six again."
      : `Most likely it is the ${spanName(suspect.span)}${suspect.slip === null ? '' : `, ${slipText(suspect.slip, suspect.mm - readMmOf(flat, suspect.span))}`}: measure it again first, it should be near ${bothRulers(suspect.mm)}.`;
  const measure = {
    eachOffMm: flat.eachOffMm,
    ...Object.fromEntries(flat.wouldBe.map(({ span, mm }) => [`${span}Mm`, mm])),
    ...(suspect === null ? {} : { suspect: suspect.span }),
  };
  const off = Number.isFinite(flat.eachOffMm)
    ? `every reading would have to be off by ${formatMm(flat.eachOffMm, 1)}`
    : 'no error of reading explains it';
  return { off, measure, rest: `If only one is wrong, it would have to be: ${list}. ${blame}` };
}

function misreadingFinding(flat: FlatCheck): Finding {
  const { off, rest, measure } = flatWords(flat);
  return finding('square-misreading', 'fix', {
    message: `At least one reading is wrong: the diagonals are too long for the sides, on a flat sheet and on a buckled one (${off}). ${rest}`,
    measure,
  });
}

function notFlatFinding(flat: FlatCheck): Finding {
  const { off, rest, measure } = flatWords(flat);
  return finding('square-not-flat', 'fix', {
    message: `The sheet did not lie flat, or a reading is wrong: the diagonals are too short for the sides (${off}; a buckled sheet would have one hole ${formatMm(flat.liftMm ?? 0, 0)} off the plane of the others). Press it flat and measure again. ${rest}`,
    measure: { ...measure, liftMm: flat.liftMm ?? 0 },
  });
}

/** So many readings of each side tell a difference that joins don't stand. */
function readingsThatTell(readingErrorMm: number): number {
  return Math.ceil(((2 * readingErrorMm) / SIDES_FIX_MM) ** 2);
}

function unsettledFinding({ doubt, readingErrorMm }: UnsettledCheck): Finding {
  const both = `${spanName(doubt.pair[0])} and the ${spanName(doubt.pair[1])}`;
  return finding('square-unsettled', 'fix', {
    message: `As read, the ${both} differ by ${formatMm(Math.abs(doubt.differenceMm), 1)}, which would spoil joins; but the readings may be off by as much (${formatMm(doubt.errorMm, 1)}), and a rectangle may have them. Measure all six again, each ${readingsThatTell(readingErrorMm)} times or with a finer ruler, before you punch anything.`,
    measure: { differenceMm: doubt.differenceMm, errorMm: doubt.errorMm },
  });
}

function readMmOf({ wouldBe }: FlatCheck, span: Span): number {
  return wouldBe.find((one) => one.span === span)?.readMm ?? Number.NaN;
}

function slipText(slip: ReadingErrorKind, changeMm: number): string {
  const size = Math.abs(changeMm);
  if (slip === 'whole-inch') return `off by ${Math.round(size / MM_PER_INCH)} in`;
  return slip === 'ten-mm' ? `off by ${Math.round(size / 10) * 10} mm` : 'two digits of which were exchanged';
}

function reflexFinding(): Finding {
  return finding('square-misreading', 'fix', {
    message:
      'By these distances one hole lies inside the triangle of the other three, which no sheet has: see that every distance runs between the right holes, and measure all six again.',
    measure: null,
  });
}

function orderFindings({ order, names, renamed }: OutOfOrderCheck): Finding[] {
  const found: Finding[] = [];
  if (order.exchanged !== null) {
    const [one, other] = order.exchanged.map((corner) => holeName(corner, names));
    const rest = CORNERS.filter((corner) => !order.exchanged?.includes(corner)).map((c) => holeName(c, names));
    const swap = (corner: Corner): Corner => {
      const [a, b] = order.exchanged ?? [corner, corner];
      return corner === a ? b : corner === b ? a : corner;
    };
    const around = listText(CORNERS.map((corner) => holeName(swap(corner), names)));
    found.push(
      finding('square-order', 'fix', {
        message: `The holes were named out of order: the distances given for the ${spanName(order.from.falling)} and the ${spanName(order.from.rising)} are the diagonals. Around the sheet, as they were named, they come as ${around}; exchange the names of ${one} and ${other} (or of ${listText(rest)}), or give each distance under its own name, and check again.${renamed === null ? ' Even so these distances belong to no flat sheet within the error of reading: measure them again too.' : ''}`,
        measure: { falling: order.from.falling, rising: order.from.rising },
      }),
    );
  }
  if (order.turned) {
    found.push(
      finding('square-turned', 'fix', {
        message:
          'Width and height are exchanged against the job: the sheet was held turned by a quarter when its sides were named; name the lead side top and check again.',
        measure: null,
      }),
    );
  }
  return found;
}

function spreadFindings({ readings, readingErrorMm }: SquareCheck): Finding[] {
  return SPANS.flatMap((span): Finding[] => {
    const reading = readings[span];
    if (reading === null || !reading.spreadTooBig) return [];
    return [
      finding('square-spread', 'look', {
        message: `The ${reading.count} readings of the ${spanName(span)} lie up to ${formatMm(reading.spreadMm, 1)} from their mean, more than the error of reading of ${formatMm(readingErrorMm)}: measure it again.`,
        measure: { span, spreadMm: reading.spreadMm },
      }),
    ];
  });
}

function unprovedFindings(check: PartlyNotSquareCheck | NotEnoughCheck): Finding[] {
  const { readings, missing, names, foretold } = check;
  const said: string[] = [];
  const found: Finding[] = [];
  const pairs = measuredPairs(readings);
  const corners = measuredCorners(readings);
  for (const { pair, differenceMm, errorMm, maybeEqual } of pairs) {
    const both = `${spanName(pair[0])} and ${spanName(pair[1])}`;
    if (!maybeEqual) {
      said.push(`${both} differ by ${formatMm(Math.abs(differenceMm), 1)}, so it is no rectangle`);
    } else if (pair[0] === 'falling') {
      said.push(
        'the diagonals agree, which an isosceles trapezoid has too, and any other shape whose corners lie that far apart: alone they prove nothing',
      );
    } else {
      said.push(`${both} agree within the error of reading, as they also do on sheets that lean or taper`);
    }
    if (pair[0] !== 'falling' && Math.abs(differenceMm) > SIDES_FIX_MM) {
      found.push(sidesFinding(both, { differenceMm, errorMm, sure: !maybeEqual }, ''));
    }
  }
  for (const { corner, deg, errorDeg, maybeSquare } of corners) {
    said.push(
      `at ${holeName(corner, names)} the sides meet at ${degText(deg)} (give or take ${degText(errorDeg)}), ${maybeSquare ? 'which may be square' : 'so it is not square'}`,
    );
  }
  const told = [...pairs.map(({ maybeEqual }) => maybeEqual), ...corners.map(({ maybeSquare }) => maybeSquare)];
  if (check.verdict === 'not-square' && !told.includes(false)) {
    said.push('no rectangle has all of these within the error of reading');
  }
  const wanting = listText(missing.map((span) => `the ${spanName(span)}`));
  const next =
    foretold === null
      ? ' The shape of a sheet takes five distances at least, and the proof of the readings all six.'
      : ` If the other five are right, the ${spanName(foretold.span)} is ${bothRulers(foretold.mm)} and the sheet is ${kindText(foretold.shape)}; only measuring it proves them.`;
  found.push(
    finding('square-unproved', 'look', {
      message: `Not measured: ${wanting}.${next}${said.length === 0 ? '' : ` So far: ${said.join('; ')}.`}`,
      measure: foretold === null ? null : { [`${foretold.span}Mm`]: foretold.mm },
    }),
  );
  return found;
}
