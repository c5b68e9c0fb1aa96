import type { Finding } from '../motif/finding.js';
import { bothRulers, formatMm } from '../units/format.js';
import { LEAN_PUNCH_MM_PER_M, PATCH_MM, SIDES_FIX_MM } from './repunch.js';
import { degText, finding, holeName, kindText, listText } from './say.js';
import { shapeOfHoles } from './shape.js';
import { CORNERS } from './spans.js';
import type { Corner, Repunch, Shape, SquareCheck } from './types.js';

/** What a shape whose readings are proved does to the print, and what to mend. */
export function shapeFindings(check: SquareCheck, shape: Shape): Finding[] {
  const found: Finding[] = [shapeFinding(check, shape)];
  if (shape.equalDiagonals && shape.kind !== 'rectangle') found.push(diagonalsFinding(shape));
  const corners = check.repunch.filter(({ hole }) => isCorner(hole));
  const advice = punchText(corners, check);
  const [wide, high] = [shape.topMinusBottomMm, shape.rightMinusLeftMm];
  if (Math.abs(wide) > SIDES_FIX_MM || Math.abs(high) > SIDES_FIX_MM) {
    const [both, difference, errorMm] =
      Math.abs(wide) >= Math.abs(high)
        ? ['top side and bottom side', wide, shape.topMinusBottomErrorMm]
        : ['right side and left side', high, shape.rightMinusLeftErrorMm];
    found.push(sidesFinding(both, difference, errorMm, advice));
  }
  if (check.effect === 'leans') found.push(leanFinding(check, shape, advice));
  found.push(...sizeFindings(check, corners.length === 0 ? shape : mendedShape(check, corners, shape)));
  found.push(...extraFindings(check));
  if (check.square === true && check.order.inOrder && check.effect === 'steps') {
    found.push(
      finding('square-proved', 'note', {
        message: `The four corner holes are a rectangle of ${formatMm(shape.widthMm, 1)} by ${formatMm(shape.heightMm, 1)} within the error of reading of ${formatMm(check.readingErrorMm)}, and the six distances agree with each other.`,
        measure: { widthMm: shape.widthMm, heightMm: shape.heightMm },
      }),
    );
  }
  return found;
}

/** Opposite sides that differ; `advice` says what to do. */
export function sidesFinding(both: string, differenceMm: number, errorMm: number, advice: string): Finding {
  const doubt =
    Math.abs(differenceMm) <= errorMm
      ? ` The readings may be off by as much (${formatMm(errorMm, 1)}): measure these two again before you punch.`
      : '';
  return finding('square-sides', 'fix', {
    message: `The ${both} differ by ${formatMm(Math.abs(differenceMm), 1)}: stepped dot on dot, each placement turns a little against the last, and the joins spoil.${doubt}${advice}`,
    measure: { differenceMm },
  });
}

function shapeFinding({ names }: SquareCheck, shape: Shape): Finding {
  const angles = CORNERS.map((corner) => `${degText(shape.anglesDeg[corner])} at ${holeName(corner, names)}`);
  return finding('square-shape', 'note', {
    message: `The corner holes are ${kindText(shape)} within measuring error, out of square by ${formatMm(shape.outOfSquareMm)} and ${degText(shape.outOfSquareDeg)} (readings may make up ${formatMm(shape.outOfSquareErrorMm)} of it): ${listText(angles)}.`,
    measure: { kind: shape.kind, outOfSquareMm: shape.outOfSquareMm, outOfSquareDeg: shape.outOfSquareDeg },
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

function leanFinding({ targets }: SquareCheck, shape: Shape, advice: string): Finding {
  const way = shape.leanMm > 0 ? 'right' : 'left';
  const little = Math.abs(shape.leanMmPerM) < LEAN_PUNCH_MM_PER_M;
  const holesOnly =
    targets === null
      ? ''
      : ` (If the paper is true and only the holes lean, joins at the top and bottom are off by ${formatMm(Math.abs(shape.leanMm), 1)} sideways.)`;
  return finding('square-lean', 'look', {
    message: `The sheet leans: its lower side has slid ${formatMm(Math.abs(shape.leanMm), 1)} to the ${way}, ${formatMm(Math.abs(shape.leanMmPerM), 1)} a metre. With equal sides it still steps dot on dot, and the pattern leans with it.${little ? ` Under ${LEAN_PUNCH_MM_PER_M} mm a metre it needs no new hole.` : advice}${holesOnly}`,
    measure: { leanMm: shape.leanMm, leanMmPerM: shape.leanMmPerM },
  });
}

/** The shape once the holes are punched again. */
function mendedShape({ holes }: SquareCheck, corners: readonly Repunch[], shape: Shape): Shape {
  if (holes === null) return shape;
  return shapeOfHoles({ ...holes, ...Object.fromEntries(corners.map(({ hole, at }) => [hole, at])) });
}

function sizeFindings({ targets, readingErrorMm, repunch }: SquareCheck, shape: Shape): Finding[] {
  if (targets === null) return [];
  const [wide, high] = [shape.widthMm - targets.widthMm, shape.heightMm - targets.heightMm];
  if (Math.max(Math.abs(wide), Math.abs(high)) <= SIDES_FIX_MM + readingErrorMm) return [];
  const signed = (mm: number): string => `${formatMm(Math.abs(mm), 1)} too ${mm > 0 ? 'long' : 'short'}`;
  return [
    finding('square-size', 'look', {
      message: `${repunch.some(({ hole }) => isCorner(hole)) ? 'Once punched again, against' : 'Against'} the job the width is ${signed(wide)} and the height ${signed(high)}. If the paper moved after the holes and the pattern were marked together, the joins still meet and the repeat is that much larger or smaller; if only the holes are off, every join is off by it.`,
      measure: { widthOffMm: wide, heightOffMm: high },
    }),
  ];
}

function extraFindings(check: SquareCheck): Finding[] {
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
