import { checkJoins } from '../joins/check-joins.js';
import { FOLD_LIMIT } from '../joins/options.js';
import type { Finding } from '../motif/finding.js';
import { foldFindings } from '../motif/fold-findings.js';
import { sizeMotif } from '../motif/size.js';
import type { Motif, Notice } from '../motif/types.js';
import { makeLattice } from '../repeat/lattice.js';
import { layRepeat } from '../repeat/lay-repeat.js';
import { seamStretches } from '../repeat/seam-stretches.js';
import { dotFindings } from '../stencil/dot-findings.js';
import { droppedFindings } from '../stencil/dropped.js';
import { graverPaper, paperFindings } from '../stencil/paper-findings.js';
import { cutSheet } from '../stencil/sheet.js';
import { findPaper } from '../units/paper-sizes.js';
import { planDouble, singleSheets } from './double-plan.js';
import { followSize, marksOfSheet } from './follow-size.js';
import { otherSheetFindings } from './other-sheet.js';
import { doneOf } from './practice.js';
import { oneColumn, registerFindings, registerSheets } from './register.js';
import type { JobResult, Progress } from './result.js';
import { sheetsAfterProof } from './sheets-after-proof.js';
import { statementsOf } from './statements.js';
import { layStencils } from './stencils.js';
import type { Job } from './types.js';

/** How far lead cuts run past the seam by default, mm. A resist shows a hairline of dye, a direct print a hairline of cloth. */
const LAP_MM = { resist: 0.4, direct: 0.1 } as const;

/**
 * Runs a whole job on a motif: sizes it, lays it on the repeat, decides the spill, follows the openings, checks the joins, and cuts the
 * sheets. Throws `InputError` where the artwork and the job cannot go together; faults of the artwork come back as findings.
 */
export function runJob(motif: Motif, given: Job, { progress }: { progress?: Progress } = {}): JobResult {
  const step = (stage: string, share: number): void => progress?.(stage, share);
  step('sizing the artwork', 0);
  const sized = sizeMotif(motif, given.size);
  const lattice = makeLattice(given.repeat, sized.frame.widthMm, sized.frame.heightMm);
  step('laying the repeat', 0.1);
  const { cell: bare, findings: spillFindings } = layRepeat(sized.shapes, lattice, {
    spill: given.spill,
    drawn: given.drawn,
    method: given.method,
    paperColour: given.paperColour,
    cut: given.cut,
    reachMm: given.joins.reachMm,
  });
  const { job: asked, otherNumbers, tiesFrom } = followSize(given, bare);
  const double = asked.double.on ? planDouble(runJob(motif, singleSheets(asked))) : null;
  const job = marksOfSheet(double === null ? asked : { ...asked, ties: double.ties }, lattice);
  step('following the openings', 0.55);
  const inks = bare.inks.map((i) => i.ink);
  const field = { x0: 0, y0: 0, x1: job.across * lattice.widthMm, y1: job.down * lattice.heightMm };
  const lapMm = job.lapMm ?? LAP_MM[job.method];
  const reach = { ...field, x0: -lapMm, y0: -lapMm };
  const {
    cloth: cell,
    drawn,
    openings,
    stencils,
    strandedTies,
    findings: tieFindings,
  } = layStencils(bare, { job, reach, tiesFrom, onB: double?.onB });
  step('checking the joins', 0.7);
  const oneWide = oneColumn(job.cloth, field.x1);
  const sideJoinMeetsNothing = oneWide && job.across === 1;
  const joined = checkJoins(seamStretches(drawn), lattice, { ...job.joins, sideJoinMeetsNothing });
  step('cutting the sheet', 0.8);
  const cut = stencils.map((stencil, k) =>
    cutSheet(stencil.cell, stencil.inkIndex, stencil.openings, {
      across: job.across,
      down: job.down,
      borderMm: job.sheet.borderMm,
      trailingMm: job.sheet.trailingMm,
      dotMm: job.sheet.dotMm,
      sightDotMm: job.sheet.sightDotMm,
      lapMm,
      hold: job.hold,
      practice: job.practice,
      punchesMm: job.punchesMm,
      numbers: job.numbers[stencil.key] ?? [],
      otherNumbers: otherNumbers.map((numbers) => numbers[stencil.key] ?? []),
      done: doneOf(
        job,
        stencil.key,
        stencils.map(({ key }) => key),
      ),
      paper: findPaper(job.pages.paper),
      sideJoinMeetsNothing: oneWide,
      rules: job.paper.rules,
      pace: job.pace,
      ties: stencil.ties,
      released: stencil.released,
      leftOut: stencil.leftOut,
      part: stencil.part,
      index: k + 1,
      count: stencils.length,
    }),
  );
  const planned = registerSheets(
    cut.map(({ sheet }) => sheet),
    { job, lattice, oneWide },
  );
  const { sheets, findings: proofFindings } = sheetsAfterProof(planned, job, lattice);
  const said = [
    ...sized.notices.map(noticeFinding),
    ...spillFindings,
    ...tieFindings,
    ...(double?.findings ?? []),
    ...droppedFindings(sheets, lattice),
    ...sheets.flatMap(dotFindings),
    ...registerFindings(job, sheets),
    ...otherSheetFindings(asked, lattice),
    ...proofFindings,
  ];
  const findings = [
    ...joined.findings,
    ...foldFindings(said, { limit: FOLD_LIMIT }),
    ...foldFindings(sheets.flatMap(paperFindings), { limit: FOLD_LIMIT, worse: graverPaper }),
  ];
  step('done', 1);
  return {
    job: asked,
    motif: sized,
    lattice,
    openings,
    joins: joined.joins,
    sheets,
    kept: Object.fromEntries(cut.map(({ kept }, k) => [stencils[k].key, kept])),
    cell,
    cutOut: cut.map(({ outlines }) => outlines),
    strandedTies,
    tiesFrom,
    strips: stencils.map(({ strips }) => strips),
    findings,
    statements: statementsOf(job, inks),
    inks,
  };
}

function noticeFinding(notice: Notice): Finding {
  return {
    code: notice.code,
    severity: notice.severity,
    message: notice.message,
    atMm: notice.boxMm ? { x: notice.boxMm.x0, y: notice.boxMm.y0 } : null,
    measure: { element: notice.element },
  };
}
