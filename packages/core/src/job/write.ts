import { fractionText } from '../repeat/fraction.js';
import { type FilledJobFile, JOB_VERSION } from './schema.js';
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
    },
    pages: {
      paper: job.pages.paper,
      orientation: job.pages.orientation,
      margin: length(job.pages.marginMm),
      overlap: length(job.pages.overlapMm),
      mirror: job.pages.mirror,
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
    },
  };
  return `${JSON.stringify(file, null, 2)}\n`;
}

/** What a person calls the repeat: a drop of 1/2 is a half-drop. */
export function repeatName(job: Pick<Job, 'repeat'>): FilledJobFile['repeat'] {
  const { kind, step } = job.repeat;
  return kind === 'drop' && step.p === 1 && step.q === 2 ? 'half-drop' : kind;
}

function lengthOrAuto(mm: number | null): string {
  return mm === null ? 'auto' : length(mm);
}

/** Whole tenths of metres from one metre on are written in metres, all else in mm. */
function length(mm: number): string {
  const value = Number(mm.toPrecision(LENGTH_DIGITS));
  return value >= 1_000 && value % 100 === 0 ? `${value / 1_000}m` : `${value}mm`;
}
