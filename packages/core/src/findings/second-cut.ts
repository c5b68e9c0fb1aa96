import { distance } from '../geometry/points.js';
import type { Point } from '../geometry/types.js';
import type { Finding } from '../motif/finding.js';
import type { CutFault } from '../proof/cut-faults.js';
import { endNamed } from '../proof/end-names.js';
import type { ProofTold, TakenIn } from '../proof/second-cut.js';
import type { FirstCutEnd, ProofOffset, SheetJoin } from '../proof/types.js';
import type { CutSheet } from '../stencil/types.js';
import { formatMm } from '../units/format.js';
import { rounded } from '../units/round.js';
import { said } from '../units/voice.js';

/** What a person should know of a proof that was taken into a sheet. */
export function secondCutFindings(told: readonly ProofTold[], sheet: CutSheet): Finding[] {
  return told.map((one) => toldFinding(one, sheet));
}

/** A proof of a sheet that the job does not cut. Code: `proof-no-sheet`. */
export function strayProofFinding(key: string): Finding {
  return {
    code: 'proof-no-sheet',
    topic: 'proof',
    severity: 'look',
    ...said(
      (voice) =>
        `The job keeps a proof of the sheet ${key}, but cuts no such sheet: take it out${voice === 'command' ? ' of "proof"' : ''}, or cut that ink.`,
    ),
    atMm: null,
    measure: { key },
  };
}

function toldFinding(told: ProofTold, sheet: CutSheet): Finding {
  switch (told.what) {
    case 'fault':
      return faultFinding(told.fault, told.names, sheet);
    case 'changed':
      return changedFinding(told.offset, told.at, sheet);
    case 'uncut':
      return uncutFinding(told.name, told.at, sheet);
    case 'taken-in':
      return takenInFinding(told, sheet);
  }
}

const WRONG: Readonly<Record<CutFault['kind'], (fault: CutFault) => string>> = {
  crosses: ({ opening }) => `would cross the outline of opening ${opening}`,
  closes: ({ opening }) => `would close opening ${opening}`,
  leaves: () => 'would leave the held margin',
};

/** A run of the second cut that was left as planned. Codes: `proof-crosses`, `proof-closes`, `proof-leaves`. */
function faultFinding(fault: CutFault, names: readonly string[], sheet: CutSheet): Finding {
  const where = names.join(' and ');
  return {
    code: `proof-${fault.kind}`,
    topic: 'proof',
    severity: 'fix',
    message: `Moved as the proof asks, the second cut at ${where} ${WRONG[fault.kind](fault)}: it is left as planned there; measure ${where} again, or mend the lead edge.`,
    atMm: onField(fault.at, sheet),
    measure: ofSheet({ ends: names.join(' '), opening: fault.opening }, sheet),
  };
}

/** An offset measured on another drawing than this one. Code: `proof-drawing-changed`. */
function changedFinding({ name, place }: ProofOffset, at: Point | null, sheet: CutSheet): Finding {
  const moved = at && place ? distance(at, place) : null;
  const how =
    moved === null ? `there is no ${name} any more` : `${name} is planned ${formatMm(moved)} from where it was`;
  return {
    code: 'proof-drawing-changed',
    topic: 'proof',
    severity: 'fix',
    message: `The drawing was changed since the proof was measured: ${how}, and its offset is left out; measure again.`,
    atMm: at ?? place,
    measure: ofSheet({ end: name, ...(moved === null ? {} : { movedMm: rounded(moved, 3) }) }, sheet),
  };
}

/** An offset at a lead edge that is not cut before the proof. Code: `proof-lead-uncut`. */
function uncutFinding(name: string, at: Point, sheet: CutSheet): Finding {
  return {
    code: 'proof-lead-uncut',
    topic: 'proof',
    severity: 'look',
    message: `The lead edge that comes to ${name} waits in the held margin itself, so no proof shows it: its offset is left out.`,
    atMm: at,
    measure: ofSheet({ end: name }, sheet),
  };
}

/** How far the second cut follows a proof. Code: `proof-taken-in`. */
function takenInFinding({ applied, ends: { joins, firstCutEnds } }: TakenIn, sheet: CutSheet): Finding {
  const stops = new Set(firstCutEnds.map(({ name }) => name));
  const at = applied.filter(({ name }) => !stops.has(name)).length;
  const most = applied.reduce((a, b) => (Math.abs(b.offsetMm) > Math.abs(a.offsetMm) ? b : a));
  const mostMm = Math.abs(most.offsetMm);
  return {
    code: 'proof-taken-in',
    topic: 'proof',
    severity: 'note',
    message: `The second cut follows the proof at ${at} of ${joins.length} joins and ${applied.length - at} of ${firstCutEnds.length} stops: edges move by at most ${formatMm(mostMm)} (${most.name}). Widths of paper are still judged by the plan.`,
    atMm: onField((endNamed({ joins, firstCutEnds }, most.name) as SheetJoin | FirstCutEnd).at, sheet),
    measure: ofSheet(
      { joins: at, firstCutEnds: applied.length - at, mostMm: rounded(mostMm, 3), end: most.name },
      sheet,
    ),
  };
}

function onField({ x, y }: Point, { field }: CutSheet): Point {
  return { x: x - field.x0, y: y - field.y0 };
}

/** Of several sheets each has its own findings. */
function ofSheet(measure: Record<string, number | string>, { count, index }: CutSheet): Finding['measure'] {
  return count === 1 ? measure : { ...measure, sheet: index };
}
