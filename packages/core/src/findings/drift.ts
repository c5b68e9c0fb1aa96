import type { Finding } from '../motif/finding.js';
import { TURN_ROUNDING_RAD } from '../register/drift.js';
import { groundLineRestarts } from '../register/drift-restarts.js';
import type { Drift, DriftJoin, LineDrift } from '../register/drift-types.js';
import { formatMm } from '../units/format.js';

/** What is less than this at the end of a line, mm, is not worth a word. */
const SAID_MM = 0.5;

/** A join off by less than this, mm, is said to meet: sentences give two digits after the point. */
const MEETS_MM = 0.005;

/** Radii from here on, mm, are told in metres. */
const METRES_FROM_MM = 1000;

/** What drift does to the cloth and what to do, a sentence or two each: joins first, then bends, leans and growth, then what was assumed. */
export function driftFindings(drift: Drift): Finding[] {
  const { within, between, firstOver } = drift;
  const [along, across] = lineNames(drift);
  const found: Finding[] = [];
  if (firstOver !== null) found.push(joinFinding(drift, firstOver));
  for (const [line, what] of [
    [within, along],
    [between, across],
  ] as const) {
    if (line !== null) found.push(...lineFindings(line, what, drift));
  }
  if (found.length === 0) {
    const worstMm = drift.worst?.mm ?? 0;
    found.push({
      code: 'drift-none',
      topic: 'squaring',
      severity: 'note',
      message: `Stepped dot on dot, ${drift.down} down and ${drift.across} across, the sheet stays in place: ${worstMm < MEETS_MM ? 'every join meets' : `no join is off by more than ${formatMm(worstMm)}`}.`,
      atMm: null,
      measure: { worstMm },
    });
  }
  const assumed = drift.model.dots.filter(({ known }) => known === 'interpolated').map(({ name }) => name);
  if (assumed.length > 0) {
    const many = assumed.length > 1;
    found.push({
      code: 'drift-assumed',
      topic: 'squaring',
      severity: 'look',
      message: `${many ? 'Dots' : 'Dot'} ${assumed.join(', ')} between the corners ${many ? 'were' : 'was'} not measured: drift is worked out as if ${many ? 'they divided their sides' : 'it divided its side'} as on the job's sheet; measure ${many ? 'them' : 'it'} from two corner holes.`,
      atMm: null,
      measure: { dots: assumed.join(', ') },
    });
  }
  return found;
}

function joinFinding(drift: Drift, first: DriftJoin): Finding {
  const { toleranceMm, last } = drift;
  const end =
    last === null || (last.column === first.column && last.row === first.row)
      ? ''
      : `, and at the last placement ${last.mm > toleranceMm ? 'by' : 'only by'} ${formatMm(last.mm, 1)}`;
  return {
    code: 'drift-joins',
    topic: 'squaring',
    severity: 'fix',
    message: `Stepped dot on dot, joins first miss by more than ${formatMm(toleranceMm)} at column ${first.column + 1}, row ${first.row + 1} (by ${formatMm(first.mm)} against column ${first.with.column + 1}, row ${first.with.row + 1})${end}: ${restartText(drift)}.`,
    atMm: null,
    measure: {
      column: first.column + 1,
      row: first.row + 1,
      mm: first.mm,
      toleranceMm,
      lastMm: last?.mm ?? 0,
      worstMm: drift.worst?.mm ?? 0,
    },
  };
}

/** What to do about joins: start afresh, or punch again. */
function restartText(drift: Drift): string {
  const { placementsEvery, linesEvery, within } = groundLineRestarts(drift);
  if (!within) return 'even laid one by one from a ground line they would miss, so punch the sheet again';
  const one = drift.model.lines === 'columns' ? 'column' : 'row';
  const fresh = [
    ...(placementsEvery === null ? [] : [`with every ${ordinal(placementsEvery)}placement of a ${one}`]),
    ...(linesEvery === null ? [] : [`with every ${ordinal(linesEvery)}${one}`]),
  ];
  return fresh.length === 0
    ? 'punch the sheet again'
    : `punch the sheet again, or start afresh from a ground line ${fresh.join(' and ')}`;
}

function lineFindings(line: LineDrift, what: string, drift: Drift): Finding[] {
  const { over, growthMm } = line;
  const found: Finding[] = [];
  const sideways = Math.abs(over.sidewaysMm);
  const way = sidewaysWay(line);
  const bend = bendOf(line);
  const turnDeg = over.turnDeg / over.steps;
  if (bend !== null && bend.mm >= SAID_MM) {
    const { radiusMm } = bend;
    const radius = radiusMm >= METRES_FROM_MM ? `${Number((radiusMm / 1000).toPrecision(3))} m` : formatMm(radiusMm, 0);
    found.push({
      code: 'drift-curve',
      topic: 'squaring',
      severity: drift.firstOver === null ? 'look' : 'fix',
      message: `Each placement ${what} turns by ${turnText(turnDeg)} ${turnDeg > 0 ? 'clockwise' : 'anticlockwise'}, so they bend on a circle of ${radius}: after ${plural(over.steps, 'step', 'steps')} the last is turned by ${turnText(over.turnDeg)} and ${formatMm(sideways, 1)} off to the ${way}; sides of equal length would keep them straight.`,
      atMm: null,
      measure: { turnDeg, radiusMm, sidewaysMm: over.sidewaysMm, bendMm: bend.mm },
    });
  } else if (sideways >= SAID_MM) {
    found.push({
      code: 'drift-lean',
      topic: 'squaring',
      severity: 'look',
      message: `Placements ${what} run straight but lean by ${formatMm(Math.abs(over.leanMmPerM), 1)} a metre: after ${plural(over.steps, 'step', 'steps')} the last is ${formatMm(sideways, 1)} off to the ${way}, and the pattern leans with them.`,
      atMm: null,
      measure: { leanDeg: over.leanDeg, leanMmPerM: over.leanMmPerM, sidewaysMm: over.sidewaysMm },
    });
  }
  const grown = growthMm * over.steps;
  if (Math.abs(grown) >= SAID_MM) {
    found.push({
      code: 'drift-growth',
      topic: 'squaring',
      severity: 'look',
      message: `Placements ${what} step ${formatMm(Math.abs(growthMm))} ${growthMm > 0 ? 'too far' : 'too short'} each time, ${formatMm(Math.abs(grown), 1)} in ${plural(over.steps, 'step', 'steps')}: plan the cloth with the steps as they are.`,
      atMm: null,
      measure: { growthMm, overMm: grown },
    });
  }
  return found;
}

/**
 * The circle through a line's first and last placement that turns by as much as they do, and how far it carries the last from where the first step
 * leads, mm: half the turns of the steps after the first. Null where nothing turns.
 */
function bendOf({ step, over }: LineDrift): { readonly radiusMm: number; readonly mm: number } | null {
  const turn = (Math.abs(over.turnDeg) * Math.PI) / 180;
  if (turn <= TURN_ROUNDING_RAD) return null;
  const length = over.steps * Math.hypot(step.vector.x, step.vector.y);
  const after = ((over.steps - 1) / over.steps) * turn;
  return { radiusMm: length / turn, mm: Math.abs(length * Math.sin(after / 2)) };
}

/** The side of the cloth to which a line strays: a column to the left or right, a row up or down. */
function sidewaysWay({ step, over }: LineDrift): string {
  if (step.to === 'bottom') return over.sidewaysMm > 0 ? 'left' : 'right';
  return over.sidewaysMm > 0 ? 'bottom' : 'top';
}

function lineNames({ model }: Drift): readonly [string, string] {
  return model.lines === 'columns' ? ['down a column', 'from column to column'] : ['along a row', 'from row to row'];
}

function plural(n: number, one: string, many: string): string {
  return n === 1 ? one : `${n} ${many}`;
}

/** For `every`: nothing for each, `2nd `, `3rd `, `11th `. */
function ordinal(n: number): string {
  if (n === 1) return '';
  const tens = Math.floor((n % 100) / 10) === 1;
  return `${n}${(tens ? undefined : ['th', 'st', 'nd', 'rd'][n % 10]) ?? 'th'} `;
}

/** Small turns need more digits than two. */
function turnText(deg: number): string {
  return `${Number(Math.abs(deg).toPrecision(2))}°`;
}
