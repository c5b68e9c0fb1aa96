import type { Job } from '../job-file/types.js';
import type { Finding } from '../motif/finding.js';
import { dotFrame } from '../register/dots.js';
import type { SheetMovement } from '../register/types.js';
import type { CutSheet } from '../stencil/types.js';
import { formatMm } from '../units/format.js';
import { said } from '../units/voice.js';
import { percentText } from '../units/words.js';
import { movementFindings } from './movement.js';

/** How a sheet stands on its paper and on the cloth. */
export interface Registered {
  readonly job: Pick<Job, 'movement' | 'practice' | 'sheet' | 'paper'>;
  /** The first of the sheets: all of them lie alike. */
  readonly sheet: CutSheet;
  /** How its paper moves; null where that is not known. */
  readonly movement: SheetMovement | null;
  /** The cloth's width on the table. */
  readonly clothMm: number;
}

/**
 * What has to be said of paper that moves and of where the dots went. Codes: `movement-grain` (`fix`), `movement-unknown`, `dots-selvedge`,
 * `dots-not-seated` (`look`), `movement-allowed` (`note`).
 */
export function registerFindings(registered: Registered): Finding[] {
  return [...paperFindings(registered), ...(registered.job.sheet.seat ? seatFindings(registered) : [])];
}

function paperFindings({ job, movement, sheet: { dots } }: Registered): Finding[] {
  // A sheet that is not soaked does not move.
  if (!job.practice.soak) return [];
  const frame = dotFrame(dots);
  const size = { widthMm: frame.x1 - frame.x0, heightMm: frame.y1 - frame.y0 };
  if (job.movement === null || movement !== null) return movementFindings(size, movement);
  const { alongPercent, acrossPercent } = job.movement;
  return [
    {
      code: 'movement-grain',
      topic: 'margin',
      severity: 'fix',
      ...said(
        (voice) =>
          `The paper moves by ${percentText(alongPercent)} along its grain and ${percentText(acrossPercent)} across, but the job does not say how the grain runs on the sheet: say ${voice === 'command' ? '"grain" upright or level' : 'whether it runs upright or level'}; until then nothing is allowed for.`,
      ),
      atMm: null,
      measure: { alongPercent, acrossPercent },
    },
  ];
}

function seatFindings({ job: { paper }, clothMm, sheet: { dots, register, field } }: Registered): Finding[] {
  const frame = dotFrame(dots);
  const width = frame.x1 - frame.x0;
  if (register.seat === 'selvedge' && clothMm < width) {
    const out = formatMm(field.x0 - frame.x0);
    return [
      {
        code: 'dots-selvedge',
        topic: 'margin',
        severity: 'look',
        message: `The dots stand in the selvedges, ${out} outside the field on both sides, ${formatMm(width, 1)} apart: see that the cloth reaches there, its width is ${formatMm(clothMm, 1)}.`,
        atMm: null,
        measure: { apartMm: width, clothMm: clothMm },
      },
    ];
  }
  if (register.seat !== 'corners') return [];
  return [
    {
      code: 'dots-not-seated',
      topic: 'margin',
      severity: 'look',
      message: `No place was found where all dots show less than on the corners and stand clear of the openings by a tie's width (${formatMm(paper.tie.widthMm)}): they are on the corners.`,
      atMm: null,
      measure: { tieWidthMm: paper.tie.widthMm },
    },
  ];
}
