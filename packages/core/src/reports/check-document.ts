import { type CheckedJob, judgedSheets } from '../job/result.js';
import { repeatName } from '../job-file/repeat-fields.js';
import { countStates } from '../joins/states.js';
import { bySeverity, countFindings, mustMend } from '../motif/finding.js';
import { fractionText } from '../repeat/fraction.js';
import { wholeOpeningId } from '../repeat/opening-names.js';
import { drySheet } from '../stencil/dry-sheet.js';
import { fittingPaper } from '../stencil/named-paper.js';
import { findPaper } from '../units/paper-sizes.js';
import { paperDocument } from './paper-document.js';
import { plainFinding } from './plain-finding.js';
import { roundedData } from './rounded-data.js';

/** The openings of which something waits in the held margin; a part into which ties divide one on the sheet counts as the whole. */
export function heldOpenings(result: Pick<CheckedJob, 'sheets' | 'openings'>): Set<string> {
  const known = new Map<string, string[]>();
  for (const { id } of result.openings) {
    const whole = wholeOpeningId(id);
    known.set(whole, [...(known.get(whole) ?? []), id]);
  }
  const own = new Set(result.openings.map(({ id }) => id));
  const held = result.sheets.flatMap(({ openings }) =>
    openings.filter(({ secondCut }) => secondCut.length > 0).map(({ openingId }) => openingId),
  );
  return new Set(held.flatMap((id) => (own.has(id) ? [id] : (known.get(wholeOpeningId(id)) ?? []))));
}

/**
 * The document of `check --json`: plain data, the same from run to run. Lengths in mm, areas in mm², angles in degrees;
 * `file` is what the person named. Join offsets and the like are null where an end has no partner.
 *
 * Long because it is one literal: the document from its first key to its last.
 */
export function checkDocument(result: CheckedJob, file: string) {
  const { job, motif, lattice, sheets } = result;
  const judged = judgedSheets(result);
  const held = heldOpenings(result);
  const sheet = sheets[0];
  return roundedData({
    motif: {
      file,
      widthMm: motif.frame.widthMm,
      heightMm: motif.frame.heightMm,
      from: motif.frame.from,
      shapes: motif.shapes.length,
      inks: [...new Set(motif.shapes.map(({ ink }) => ink))],
      notices: motif.notices.map((notice) => ({ ...notice })),
    },
    repeat: {
      kind: repeatName({ repeat: lattice.repeat }),
      step: fractionText(lattice.repeat.step),
      widthMm: lattice.widthMm,
      heightMm: lattice.heightMm,
      basisMm: [
        [lattice.a.x, lattice.a.y],
        [lattice.b.x, lattice.b.y],
      ],
    },
    openings: result.openings.map((opening) => ({
      id: opening.id,
      ink: opening.ink,
      rank: opening.rank,
      areaMm2: opening.areaMm2,
      areaBoundMm2: opening.areaBoundMm2,
      boxMm: opening.rank === 0 ? opening.boxMm : null,
      crosses: [...opening.crosses],
      held: held.has(opening.id),
    })),
    joins: result.joins.map(({ seam, ink, atMm, offsetMm, gapMm, kinkDeg, state, flush, widthMm }) => ({
      seam,
      ink,
      atMm,
      offsetMm,
      gapMm,
      kinkDeg,
      state,
      flush,
      widthMm,
    })),
    sheet:
      sheet === undefined
        ? null
        : {
            widthMm: sheet.widthMm,
            heightMm: sheet.heightMm,
            across: sheet.across,
            down: sheet.down,
            lapMm: sheet.lapMm,
            heldRightMm: sheet.heldRight,
            heldBottomMm: sheet.heldBottom,
            fitsPaper: fittingPaper(sheet.widthMm, sheet.heightMm, findPaper(job.pages.paper)),
            openings: sheet.openings.length,
            // What the drawing has there and nobody cuts: past the edge, or too slight for a blade.
            dropped: sheet.dropped.map(({ contours: _, ...place }) => place),
            dots: sheet.dots.map(({ name, at, diameterMm, lead }) => ({
              name,
              xMm: at.x,
              yMm: at.y,
              diameterMm,
              lead,
            })),
            targets: {
              widthMm: measured(sheet.measures, 'width'),
              heightMm: measured(sheet.measures, 'height'),
              diagonalMm: measured(sheet.measures, 'diagonal'),
              measures: sheet.measures.map((measure) => ({ ...measure })),
            },
            punch: sheet.register.punch,
            seat: sheet.register.seat,
            secondCutFrom: sheet.secondCutFrom,
            // The same on dry paper, where it moves by a known share when it is soaked.
            movement: movementDocument(sheet),
          },
    paper: sheet === undefined ? null : paperDocument(judged[0]),
    // Where there are several sheets, one of each, in their order.
    ...(sheets.length > 1
      ? { papers: judged.map((one) => ({ ink: one.ink, part: one.part, paper: paperDocument(one) })) }
      : {}),
    summary: {
      statements: [...result.statements],
      stencils: sheets.length,
      openings: result.openings.length,
      joins: countStates(result.joins),
      findings: countFindings(result.findings),
      ready: !mustMend(result.findings),
    },
    findings: bySeverity(result.findings).map(plainFinding),
  });
}

function movementDocument(sheet: CheckedJob['sheets'][number]) {
  const movement = sheet.register.movement;
  if (movement === null) return null;
  const { measures, widthMm, heightMm } = drySheet(sheet);
  return {
    ...movement,
    dry: {
      sheetWidthMm: widthMm,
      sheetHeightMm: heightMm,
      widthMm: measured(measures, 'width'),
      heightMm: measured(measures, 'height'),
      diagonalMm: measured(measures, 'diagonal'),
      measures: measures.map((measure) => ({ ...measure })),
    },
  };
}

/** The shape of the document that `checkDocument` makes. */
export type CheckDocument = ReturnType<typeof checkDocument>;

function measured(measures: CheckedJob['sheets'][number]['measures'], what: string): number | null {
  return measures.find((measure) => measure.what === what)?.mm ?? null;
}
