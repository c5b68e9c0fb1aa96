import type { Finding } from '../motif/finding.js';
import { MOVEMENT_MAX_PERCENT } from '../register/movement.js';
import { LEAN_PUNCH_MM_PER_M, PATCH_MM, SIDES_FIX_MM } from '../register/repunch.js';
import { degText, holeName, kindText, spanName } from '../register/say.js';
import { shapeOfHoles, worseSides } from '../register/shape.js';
import { CORNERS } from '../register/spans.js';
import type {
  Corner,
  KnownSquareCheck,
  Repunch,
  Shape,
  SidesDoubt,
  SquareCheck,
  SquareTargets,
} from '../register/types.js';
import { bothRulers, formatMm } from '../units/format.js';
import { listText, percentText } from '../units/words.js';
import { finding } from './holes-finding.js';

/** A difference below this is said to hundredths, mm. */
const SAID_TO_TENTHS_MM = 0.5;

/** What a known shape does to the print, and what to mend. */
export function shapeFindings(check: KnownSquareCheck): Finding[] {
  const { shape } = check;
  const found: Finding[] = [shapeFinding(check)];
  if (shape.equalDiagonals && shape.kind !== 'rectangle') found.push(diagonalsFinding(shape));
  const corners = check.repunch.filter(({ hole }) => isCorner(hole));
  const advice = punchText(corners, check);
  if (check.effect === 'misjoins') found.push(sidesFinding(...sidesOf(worseSides(shape), true), advice));
  if (check.effect === 'leans') found.push(leanFinding(check, advice));
  if (check.verdict === 'not-square' && check.doubt !== null) {
    const doubt = sidesFinding(...sidesOf(check.doubt, false), '');
    // Where nothing else is to be done this has to be.
    found.push(check.mend === 'measure-again' ? { ...doubt, severity: 'fix' } : doubt);
  }
  found.push(...sizeFindings(check, corners.length === 0 ? shape : mendedShape(check, corners)));
  found.push(...extraFindings(check));
  if (check.verdict === 'square') {
    found.push(
      finding('square-proved', 'note', {
        message: `The four corner holes are a rectangle of ${formatMm(shape.widthMm, 1)} by ${formatMm(shape.heightMm, 1)} within the error of reading of ${formatMm(check.readingErrorMm)}, and the six distances agree with each other.`,
        measure: { widthMm: shape.widthMm, heightMm: shape.heightMm },
      }),
    );
  }
  return found;
}

/** Two sides as words, and how sure their difference is. */
function sidesOf(
  { pair, differenceMm, errorMm }: SidesDoubt,
  sure: boolean,
): readonly [both: string, difference: SidesDifference] {
  return [`${spanName(pair[0])} and ${spanName(pair[1])}`, { differenceMm, errorMm, sure }];
}

interface SidesDifference {
  readonly differenceMm: number;
  readonly errorMm: number;
  /** No error of reading explains it. */
  readonly sure: boolean;
}

/** Opposite sides that differ; `advice` says what to do. */
export function sidesFinding(both: string, difference: SidesDifference, advice: string): Finding {
  const { differenceMm, errorMm, sure } = difference;
  const by = formatMm(Math.abs(differenceMm), Math.abs(differenceMm) < SAID_TO_TENTHS_MM ? 2 : 1);
  if (!sure) {
    return finding('square-sides', 'look', {
      message: `As read, the ${both} differ by ${by}, which would spoil joins; but the readings may be off by as much (${formatMm(errorMm, 1)}): measure these two again.`,
      measure: { differenceMm },
    });
  }
  return finding('square-sides', 'fix', {
    message: `The ${both} differ by ${by}: stepped dot on dot, each placement turns a little against the last, and the joins spoil.${advice}`,
    measure: { differenceMm },
  });
}

function shapeFinding({ names, shape }: KnownSquareCheck): Finding {
  const angles = CORNERS.map((corner) => `${degText(shape.anglesDeg[corner])} at ${holeName(corner, names)}`);
  const { outOfSquareMm, outOfSquareDeg, outOfSquareLeastMm, outOfSquareMostMm } = shape;
  const off =
    shape.kind === 'rectangle'
      ? `as read out of square by ${formatMm(outOfSquareMm)} and ${degText(outOfSquareDeg)}, which the error of reading explains`
      : `out of square by ${formatMm(outOfSquareMm)} and ${degText(outOfSquareDeg)} (by the error of reading at least ${formatMm(outOfSquareLeastMm)}, at most ${formatMm(outOfSquareMostMm)})`;
  return finding('square-shape', 'note', {
    message: `The corner holes are ${kindText(shape)} within measuring error, ${off}: ${listText(angles)}.`,
    measure: { kind: shape.kind, outOfSquareMm, outOfSquareDeg, outOfSquareLeastMm, outOfSquareMostMm },
  });
}

function diagonalsFinding(shape: Shape): Finding {
  const why =
    shape.kind === 'trapezoid'
      ? 'a trapezoid with equal legs has equal diagonals too'
      : 'diagonals say nothing of where they cross, and only where they halve each other are equal ones those of a rectangle';
  return finding('square-diagonals', 'note', {
    message: `The diagonals agree, but that alone does not make a sheet square: ${why}, and here opposite sides differ.`,
    measure: null,
  });
}

function leanFinding({ targets, shape }: KnownSquareCheck, advice: string): Finding {
  const way = shape.leanMm > 0 ? 'right' : 'left';
  const holesOnly =
    targets === null
      ? ''
      : ` (If the paper is true and only the holes lean, joins at the top and bottom are off by ${formatMm(Math.abs(shape.leanMm), 1)} sideways.)`;
  const todo = advice === '' ? ` Under ${LEAN_PUNCH_MM_PER_M} mm a metre it needs no new hole.` : advice;
  return finding('square-lean', advice === '' ? 'look' : 'fix', {
    message: `The sheet leans: its lower side has slid ${formatMm(Math.abs(shape.leanMm), 1)} to the ${way}, ${formatMm(Math.abs(shape.leanMmPerM), 1)} a metre. With equal sides it still steps dot on dot, and the pattern leans with it.${todo}${holesOnly}`,
    measure: { leanMm: shape.leanMm, leanMmPerM: shape.leanMmPerM },
  });
}

/** The shape once the holes are punched again. */
function mendedShape({ holes }: KnownSquareCheck, corners: readonly Repunch[]): Shape {
  return shapeOfHoles({ ...holes, ...Object.fromEntries(corners.map(({ hole, at }) => [hole, at])) });
}

function sizeFindings({ targets, sizes, readingErrorMm, repunch }: KnownSquareCheck, shape: Shape): Finding[] {
  if (targets === null) return [];
  const [wide, high] = [shape.widthMm - targets.widthMm, shape.heightMm - targets.heightMm];
  if (Math.max(Math.abs(wide), Math.abs(high)) <= SIDES_FIX_MM + readingErrorMm) return [];
  const moved = Math.max(Math.abs(wide / targets.widthMm), Math.abs(high / targets.heightMm));
  // No paper moves by more than that: such a sheet is another one.
  if (sizes === 'free' && 100 * moved <= MOVEMENT_MAX_PERCENT) return [movedFinding(shape, targets)];
  const signed = (mm: number): string => `${formatMm(Math.abs(mm), 1)} too ${mm > 0 ? 'long' : 'short'}`;
  return [
    finding('square-size', 'look', {
      message: `${repunch.some(({ hole }) => isCorner(hole)) ? 'Once punched again, against' : 'Against'} the job the width is ${signed(wide)} and the height ${signed(high)}. If the paper moved after the holes and the pattern were marked together, the joins still meet and the repeat is that much larger or smaller; if only the holes are off, every join is off by it.`,
      measure: { widthOffMm: wide, heightOffMm: high },
    }),
  ];
}

/** A sheet whose paper moved, nobody had measured how far: now somebody has. */
function movedFinding({ widthMm, heightMm }: Shape, targets: SquareTargets): Finding {
  const part = (mm: number, plannedMm: number, [more, less]: readonly [string, string]): string => {
    const percent = (100 * (mm - plannedMm)) / plannedMm;
    return `${formatMm(Math.abs(mm - plannedMm), 1)} (${percentText(Math.abs(percent))}) ${percent < 0 ? less : more}`;
  };
  const [widthOffMm, heightOffMm] = [widthMm - targets.widthMm, heightMm - targets.heightMm];
  return finding('square-moved', 'note', {
    message: `Soaked, the sheet is ${part(widthMm, targets.widthMm, ['wider', 'narrower'])} and ${part(heightMm, targets.heightMm, ['higher', 'lower'])} than planned. That alone is no reason to stop: holes and pattern move together. If the dry sheet had the planned sizes, this is how its paper moves: write it into the job.`,
    measure: { widthOffMm, heightOffMm },
  });
}

function extraFindings(check: KnownSquareCheck): Finding[] {
  return check.extra.flatMap((dot): Finding[] => {
    if (dot.ok && !dot.alongOnly) return [];
    if (dot.ok) {
      return [
        finding('square-extra-side', 'look', {
          message: `Dot ${dot.name} lies right along its side, but how far it lies beside it was not measured: measure it from a corner across the sheet too.`,
          measure: { dot: dot.name, offMm: dot.offMm },
        }),
      ];
    }
    const side = dot.alongOnly ? ' (along its side; how far it lies beside it was not measured)' : '';
    return [
      finding('square-extra', 'fix', {
        message: `Dot ${dot.name} lies ${formatMm(dot.offMm, 1)} from its place${side}.${punchText(
          check.repunch.filter(({ hole }) => hole === dot.name),
          check,
        )}`,
        measure: { dot: dot.name, offMm: dot.offMm },
      }),
    ];
  });
}

/** Which holes to punch again and where, as sentences; empty for none. */
function punchText(repunch: readonly Repunch[], { names }: SquareCheck): string {
  if (repunch.length === 0) return '';
  const holes = repunch.map(({ hole, fromMm, checkMm, movedMm, patchFirst }) => {
    const [one, other] = fromMm.map((from) => `${bothRulers(from.mm)} from ${holeName(from.hole, names)}`);
    const proof =
      checkMm === null ? '' : `, and try it: ${bothRulers(checkMm.mm)} from ${holeName(checkMm.hole, names)}`;
    const patch = patchFirst
      ? ` (only ${formatMm(movedMm, 1)} from the old hole, less than ${PATCH_MM} mm: patch that first)`
      : '';
    return `${holeName(hole, names)}, ${one} and ${other}${proof}${patch}`;
  });
  return ` Punch again ${holes.length === 1 ? 'one hole' : `${holes.length} holes`}: ${holes.join('; ')}.`;
}

function isCorner(hole: string): hole is Corner {
  return (CORNERS as readonly string[]).includes(hole);
}
