import type { Point } from '../geometry/types.js';
import { fractionText } from '../repeat/fraction.js';
import { autoPaper } from './auto-paper.js';
import { numbersText } from './number-list.js';
import { mirroredFor, ONE_STENCIL } from './practice.js';
import { writtenProof } from './read-proof.js';
import { type FilledJobFile, JOB_VERSION } from './schema.js';
import { type TakenGroup, writtenTakenAt } from './taken-at.js';
import type { Job } from './types.js';

/** Digits of a length in a job file: 1e-9 mm at a metre, so that reading it back gives the same job. */
const LENGTH_DIGITS = 12;

/**
 * A job file that says everything there is to say: every default written out, lengths as a person writes them. `readJob`
 * of it gives the same job.
 */
export function newJobText(job: Job): string {
  const file: FilledJobFile = {
    okuri: JOB_VERSION,
    title: job.title,
    motif: job.motif,
    fonts: [...job.fonts],
    date: job.date,
    revision: job.revision,
    width: lengthOrAuto(job.size.widthMm),
    height: lengthOrAuto(job.size.heightMm),
    repeat: repeatName(job),
    step: fractionText(job.repeat.step),
    across: job.across,
    down: job.down,
    spill: job.spill,
    drawn: job.drawn,
    method: job.method,
    hairlines: job.hairlines,
    paperColour: job.paperColour,
    hand: job.practice.hand,
    transfer: job.practice.transfer,
    grain: job.practice.grain ?? 'unknown',
    gauze: job.practice.gauze,
    soak: job.practice.soak,
    punch: job.punch,
    punches: job.punchesMm.map(length),
    movement:
      job.movement === null ? 'unknown' : { along: job.movement.alongPercent, across: job.movement.acrossPercent },
    cut: job.cut === null ? 'all' : [...job.cut],
    joins: {
      reach: length(job.joins.reachMm),
      gapShare: job.joins.gapShare,
      gapMin: length(job.joins.gapMinMm),
      gapMax: length(job.joins.gapMaxMm),
      kinkFineDeg: job.joins.kinkFineDeg,
      kinkBroadDeg: job.joins.kinkBroadDeg,
      broad: length(job.joins.broadMm),
    },
    hold: { mode: job.hold.mode, width: lengthOrAuto(job.hold.widthMm) },
    lap: lengthOrAuto(job.lapMm),
    sheet: {
      border: length(job.sheet.borderMm),
      trailing: length(job.sheet.trailingMm),
      dot: length(job.sheet.dotMm),
      sightDot: length(job.sheet.sightDotMm),
      seat: job.sheet.seat,
    },
    paper: paperFile(job),
    double: { on: job.double.on, overlap: length(job.double.overlapMm) },
    pace: {
      mmPerMinute: job.pace.mmPerMinute,
      secondsPerCorner: job.pace.secondsPerCorner,
      blade: length(job.pace.bladeMm),
    },
    pages: {
      paper: job.pages.paper,
      orientation: job.pages.orientation,
      margin: length(job.pages.marginMm),
      overlap: length(job.pages.overlapMm),
      mirror: job.pages.mirror === mirroredFor(job.practice.transfer) ? 'auto' : job.pages.mirror,
      skipBlank: job.pages.skipBlank,
      scaleAcross: job.pages.scaleAcross,
      scaleAlong: job.pages.scaleAlong,
    },
    cloth: {
      width: length(job.cloth.widthMm),
      length: length(job.cloth.lengthMm),
      colour: job.cloth.colour,
      dye: job.cloth.dye,
      seams: job.cloth.seams,
      dots: job.cloth.dots,
      findings: job.cloth.findings,
      ...planClothFile(job.cloth),
    },
    plan: planFile(job.plan),
    ...takenAtFile(job),
    ...(Object.keys(job.ties).length > 0 ? { ties: writtenTies(job.ties) } : {}),
    ...(Object.keys(job.numbers).length > 0 ? { numbers: keptNumbers(job.numbers) } : {}),
    ...(Object.keys(job.proof).length > 0 ? { proof: writtenProof(job.proof) } : {}),
    ...(Object.keys(job.done).length > 0 ? { done: doneText(job.done) } : {}),
  };
  return `${JSON.stringify(file, null, 2)}\n`;
}

/** Only sizes of what there is. */
function takenAtFile(job: Job): Pick<FilledJobFile, 'takenAt'> {
  const size = (group: TakenGroup) => (Object.keys(job[group]).length > 0 ? job.takenAt[group] : null);
  const takenAt = writtenTakenAt({
    ties: size('ties'),
    numbers: size('numbers'),
    done: size('done'),
    proof: size('proof'),
  });
  return takenAt === undefined ? {} : { takenAt };
}

function planClothFile(cloth: Job['cloth']) {
  const { selvedgeLeftMm: left, selvedgeRightMm: right } = cloth;
  return {
    sizes: cloth.sizes,
    shrinkAlong: cloth.shrinkAlongPercent ?? ('unknown' as const),
    shrinkAcross: cloth.shrinkAcrossPercent ?? ('unknown' as const),
    direction: cloth.direction,
    selvedge: left === right ? length(left) : { left: length(left), right: length(right) },
    start: length(cloth.startMm),
    end: length(cloth.endMm),
  };
}

function planFile({ time, paste, wear, order, panels, ...plan }: Job['plan']): FilledJobFile['plan'] {
  return {
    start: plan.start,
    fill: plan.fill,
    align: plan.align,
    stepping: plan.stepping,
    wipeEvery: plan.wipeEvery,
    checkEvery: plan.checkEvery,
    faces: plan.faces,
    secondsAPlacement: time.secondsAPlacement,
    dryingMinutes: time.dryingMinutes,
    hoursADay: time.hoursADay,
    film: length(paste.filmMm),
    loss: paste.extraPercent,
    density: paste.densityGPerMl,
    sheetLasts: wear.placementsASheet ?? 'auto',
    sheetDays: wear.daysASheet ?? 'auto',
    order: order === null ? 'none' : { finished: length(order.finishedMm), wholeRepeats: order.wholeRepeats },
    panels: panels === null ? 'none' : { count: panels.count, finished: length(panels.finishedMm) },
  };
}

/** What is as it would be anyway is written as "auto". */
function paperFile(job: Job): FilledJobFile['paper'] {
  const { kind, rules, tie } = job.paper;
  const auto = autoPaper({ kind, gauze: job.practice.gauze, method: job.method });
  const unless = (mm: number, usual: number) => (mm === usual ? 'auto' : length(mm));
  return {
    kind,
    neck: unless(rules.neckMm, auto.neckMm),
    slit: unless(rules.slitMm, auto.slitMm),
    span: unless(rules.spanMm, auto.spanMm),
    tongue: rules.tongueRatio === auto.tongueRatio ? 'auto' : rules.tongueRatio,
    stroke: rules.stroke,
    turn: length(rules.turnMm),
    tieWidth: unless(tie.widthMm, Math.max(auto.tieWidthMm, rules.neckMm)),
    tieFlare: length(tie.flareMm),
    largeIsland: tie.largeMm2,
    hideTies: tie.hide,
  };
}

/** Ties as the job file keeps them, by ink; places to 0.1 µm. */
export function writtenTies(ties: Job['ties']): NonNullable<FilledJobFile['ties']> {
  const place = ({ x, y }: Point): [number, number] => [rounded(x), rounded(y)];
  return Object.fromEntries(
    Object.entries(ties).map(([ink, list]) => [
      ink,
      list.map(({ id, kind, from, to }) => ({ id, kind, from: place(from), to: place(to) })),
    ]),
  );
}

/** Numbers as the job file keeps them, by ink: number, x, y, area. */
export function keptNumbers(numbers: Job['numbers']): NonNullable<FilledJobFile['numbers']> {
  return Object.fromEntries(
    Object.entries(numbers).map(([ink, list]) => [
      ink,
      list.map(({ number, x, y, areaMm2 }): [number, number, number, number] => [number, x, y, areaMm2]),
    ]),
  );
}

/** What is done as the job file says it: one list of numbers where the job has one stencil, else a list for each ink. */
export function doneText(done: Job['done']): NonNullable<FilledJobFile['done']> {
  const inks = Object.keys(done);
  if (inks.length === 0) return '';
  if (inks.length === 1 && inks[0] === ONE_STENCIL) return numbersText(done[ONE_STENCIL]);
  return Object.fromEntries(inks.map((ink) => [ink, numbersText(done[ink])]));
}

/** What a person calls the repeat: a drop of 1/2 is a half-drop. */
export function repeatName(job: Pick<Job, 'repeat'>): FilledJobFile['repeat'] {
  const { kind, step } = job.repeat;
  return kind === 'drop' && step.p === 1 && step.q === 2 ? 'half-drop' : kind;
}

/** To 0.1 µm, without a negative zero. */
function rounded(mm: number): number {
  return Number(mm.toFixed(4)) + 0;
}

function lengthOrAuto(mm: number | null): string {
  return mm === null ? 'auto' : length(mm);
}

/** Whole tenths of metres from one metre on are written in metres, all else in mm. */
function length(mm: number): string {
  const value = Number(mm.toPrecision(LENGTH_DIGITS));
  return value >= 1_000 && value % 100 === 0 ? `${value / 1_000}m` : `${value}mm`;
}
