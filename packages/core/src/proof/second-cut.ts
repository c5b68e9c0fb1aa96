import { contourArea, contoursBox } from '../geometry/contour.js';
import { contourDistance, insideContours } from '../geometry/point-tests.js';
import { distance } from '../geometry/points.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import { toolOf } from '../stencil/tools.js';
import type { CutSheet, Sheet, SheetOpening } from '../stencil/types.js';
import { InputError } from '../units/input-error.js';
import { said } from '../units/voice.js';
import { type CutFault, cutFaults } from './cut-faults.js';
import { endNamed, endNamesRange, underOwnNames } from './end-names.js';
import {
  type CutContour,
  cutContours,
  type EndMove,
  endMoves,
  joinedContour,
  movedRun,
  type NamedRun,
} from './moved-cut.js';
import type { ProofOffset, SheetEnds } from './types.js';

/** An end planned farther than this from where it was planned when the proof was measured is another one, mm: four times finer than a knife. */
export const PLACE_TOLERANCE_MM = 0.05;

/** Offsets that the second cut follows. */
export interface TakenIn {
  readonly applied: readonly ProofOffset[];
  readonly ends: SheetEnds;
}

/** What there is to tell of a proof that is taken in: a run that is left as planned, an offset of another drawing or at an edge that no proof shows, and what is followed. */
export type ProofTold =
  | { readonly what: 'fault'; readonly fault: CutFault; readonly names: readonly string[] }
  /** `at`: where the end is now, field mm; null where there is none any more. */
  | { readonly what: 'changed'; readonly offset: ProofOffset; readonly at: Point | null }
  | { readonly what: 'uncut'; readonly name: string; readonly at: Point }
  | ({ readonly what: 'taken-in' } & TakenIn);

/**
 * The sheet with its second cuts as they must be cut after a proof: each outline comes to the seam where the next placement's lead edge
 * really is, and starts where the first cut really ends, with a smooth transition between. Holes and openings that lie in the held margin wholly stay as
 * planned. Offsets that do not belong to this drawing, or that would spoil an outline, are left out, and are told; `ends` are those
 * of the planned sheet (`sheetEnds`). Its paper report stays that of the plan. Throws an `InputError` for a name that the sheet does not have.
 */
export function applyProof(
  sheet: CutSheet,
  ends: SheetEnds,
  offsets: readonly ProofOffset[],
): { sheet: Sheet; told: ProofTold[] } {
  const told: ProofTold[] = [];
  const taken = ownOffsets(sheet, ends, offsets, told);
  if (taken.length === 0) return { sheet: { ...sheet, ends, secondCutFrom: 'plan' }, told };
  const contours = cutContours(sheet, ends);
  const moves = endMoves(ends, taken);
  const { moved, faults } = soundRuns(sheet, contours, moves);
  for (const fault of faults) {
    told.push({ what: 'fault', fault, names: namesOf(contours[fault.contour].runs[fault.run], moves) });
  }
  const left = new Set(faults.flatMap(({ contour, run }) => namesOf(contours[contour].runs[run], moves)));
  const applied = taken.filter(({ name }) => !left.has(name));
  if (applied.length > 0) told.push({ what: 'taken-in', applied, ends });
  const openings = sheet.openings.map((opening) => movedOpening(opening, contours, moved, sheet));
  return {
    sheet: { ...sheet, openings, ends, secondCutFrom: applied.length > 0 ? 'proof' : 'plan' },
    told,
  };
}

/** The offsets that belong to this drawing, those of 0 too. */
function ownOffsets(
  sheet: CutSheet,
  ends: SheetEnds,
  offsets: readonly ProofOffset[],
  told: ProofTold[],
): ProofOffset[] {
  const seen = new Set<string>();
  return underOwnNames(ends, offsets).filter((offset) => {
    const end = endNamed(ends, offset.name);
    if (seen.has(offset.name)) throw new InputError(`${offset.name} is there twice: take one of them out.`);
    seen.add(offset.name);
    if (end === undefined && offset.place === null) throw unknownEnd(offset.name, ends);
    const at = end && { x: end.at.x - sheet.field.x0, y: end.at.y - sheet.field.y0 };
    const { place } = offset;
    const away = at && place ? distance(at, place) : 0;
    if (at === undefined || away > PLACE_TOLERANCE_MM) {
      told.push({ what: 'changed', offset, at: at ?? null });
      return false;
    }
    if (end !== undefined && !('seam' in end) && offset.turnDeg !== 0) {
      throw new InputError(
        said(
          (voice) =>
            `${offset.name} is turned, but it is a stop, and only edges at a seam are turned: leave ${voice === 'command' ? '"turn"' : 'its turn'} out.`,
        ),
      );
    }
    if (end !== undefined && 'leadCut' in end && (offset.offsetMm !== 0 || offset.turnDeg !== 0)) {
      told.push({ what: 'uncut', name: offset.name, at });
      return false;
    }
    return true;
  });
}

function unknownEnd(name: string, ends: SheetEnds): InputError {
  return new InputError(
    said(
      (voice) =>
        `The proof has an offset at ${name}, but this sheet has ${endNamesRange(ends)}: take it out${voice === 'command' ? ' of "proof"' : ''}, or measure again.`,
    ),
  );
}

/**
 * Moves every run, and takes back those that spoil something, until none does. Each is told once, by its gravest fault: the one found first.
 */
function soundRuns(
  sheet: CutSheet,
  contours: readonly CutContour[],
  moves: ReadonlyMap<string, EndMove>,
): { moved: Float64Array[][]; faults: CutFault[] } {
  const moved = contours.map(({ runs }) => runs.map((named) => movedRun(named, moves, sheet)));
  const faults: CutFault[] = [];
  for (;;) {
    const found = cutFaults(sheet, contours, moved);
    if (found.length === 0) return { moved, faults };
    for (const fault of found) {
      const { coords } = contours[fault.contour].runs[fault.run].run;
      if (moved[fault.contour][fault.run] === coords) continue;
      moved[fault.contour][fault.run] = coords;
      faults.push(fault);
    }
  }
}

/** Names of a run's ends that were to move. */
function namesOf({ from, to }: NamedRun, moves: ReadonlyMap<string, EndMove>): string[] {
  return [from, to].filter((name) => name !== null && moves.has(name)) as string[];
}

function movedOpening(
  opening: SheetOpening,
  contours: readonly CutContour[],
  moved: readonly (readonly Float64Array[])[],
  sheet: CutSheet,
): SheetOpening {
  let changed = false;
  const stops = sheet.stops.filter(({ number }) => number === opening.number).map(({ from, to }) => ({ from, to }));
  const secondCut = contours.flatMap((one, c): Contour[] => {
    if (one.opening !== opening.number) return [];
    if (one.runs.every(({ run }, r) => moved[c][r] === run.coords)) return [one.contour];
    changed = true;
    one.runs.forEach(({ run }, r) => {
      const next = moved[c][(r + 1) % one.runs.length];
      if (run.to.line === 'stop') {
        const own = moved[c][r];
        stops.push({ from: { x: own[own.length - 2], y: own[own.length - 1] }, to: { x: next[0], y: next[1] } });
      }
    });
    return [joinedContour(one, moved[c])];
  });
  if (!changed) return opening;
  const all = [...opening.firstCut, ...secondCut];
  const { cutLengthMm } = toolOf(all, { uncut: stops });
  return {
    ...opening,
    secondCut,
    areaMm2: all.reduce((sum, contour) => sum + contourArea(contour), 0),
    box: contoursBox(all) as Box,
    cutLengthMm,
    ...(opening.firstCut.length > 0 ? {} : labelIn(opening, secondCut)),
  };
}

/** The label's place with what room is left around it, moved with the outline where that has come over it. */
function labelIn(opening: SheetOpening, secondCut: readonly Contour[]): Pick<SheetOpening, 'labelAt' | 'labelRoomMm'> {
  const was = contoursBox(opening.secondCut) as Box;
  const is = contoursBox(secondCut) as Box;
  const shift = { x: (is.x0 + is.x1 - was.x0 - was.x1) / 2, y: (is.y0 + is.y1 - was.y0 - was.y1) / 2 };
  const { labelAt: p } = opening;
  const places: Point[] = [p, { x: p.x + shift.x, y: p.y + shift.y }];
  const labelAt = places.find((at) => insideContours(secondCut, at)) ?? p;
  return { labelAt, labelRoomMm: contourDistance(secondCut, labelAt) };
}
