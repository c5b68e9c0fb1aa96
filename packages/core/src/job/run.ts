import { dotFindings } from '../findings/dots.js';
import { noticeFinding, remarkFinding } from '../findings/drawing.js';
import { droppedFindings } from '../findings/dropped.js';
import { joinFindings } from '../findings/joins.js';
import { otherSheetFindings } from '../findings/other-sheet.js';
import { graverPaper, paperFindings } from '../findings/paper.js';
import { spillFindings } from '../findings/spill.js';
import { strandedFindings } from '../findings/ties.js';
import type { PresentJob } from '../job-file/job-slice.js';
import type { Job } from '../job-file/types.js';
import { checkJoins } from '../joins/check-joins.js';
import { FOLD_LIMIT } from '../joins/options.js';
import type { Finding } from '../motif/finding.js';
import { foldFindings } from '../motif/fold-findings.js';
import { sizeMotif } from '../motif/size.js';
import type { Ink, Motif } from '../motif/types.js';
import { makeLattice } from '../repeat/lattice.js';
import { layRepeat } from '../repeat/lay-repeat.js';
import { seamStretches } from '../repeat/seam-stretches.js';
import type { Lattice } from '../repeat/types.js';
import { wholeOutlines } from '../stencil/sheet.js';
import type { Sheet } from '../stencil/types.js';
import { InputError } from '../units/input-error.js';
import { inVoice, said } from '../units/voice.js';
import { type DoublePlan, planDouble, singleSheets } from './double-plan.js';
import { followSize, marksOfSheet } from './follow-size.js';
import { lazily, once } from './once.js';
import { planOf } from './plan-of.js';
import { oneColumn, registrationFindings, steppingOf } from './registration.js';
import { type JobResult, judgedSheets, type Progress } from './result.js';
import { plannedSheets, type Ready, sheetStages } from './sheet-stages.js';
import { sheetsAfterProof } from './sheets-after-proof.js';
import { type Made, StageMemory } from './stage-memory.js';
import type { StageName } from './stages.js';
import { statementsOf } from './statements.js';

export interface RunOptions {
  readonly progress?: Progress;
  /** Keeps what stages gave, for the next run. By default nothing is kept. */
  readonly memory?: StageMemory;
  /** What had to be said about how the job was read. */
  readonly remarks?: readonly string[];
  /** What the artwork is called where it is refused. */
  readonly name?: string;
}

/** What is said while a stage is worked out, and the share of the whole that is done when it begins. */
const SAID: Readonly<Partial<Record<StageName, readonly [words: string, share: number]>>> = {
  laid: ['laying the repeat', 0.1],
  pattern: ['following the openings', 0.55],
  joins: ['checking the joins', 0.7],
  cut: ['cutting the sheet', 0.75],
  strength: ['looking at the paper', 0.8],
};

/**
 * Runs a job on a motif, as far as its result is read: each part of it is worked out when it is first asked for, by the stages of `STAGES`, and taken from
 * `memory` where nothing that it hangs on has changed. Reading throws `InputError` where the artwork and the job cannot go together; faults of the
 * artwork are findings.
 */
export function runJob(motif: Motif, given: Job, options: RunOptions = {}): JobResult {
  const { memory = new StageMemory({ keeps: false }), remarks = [] } = options;
  const said = remarks.map(remarkFinding);
  const make = telling(memory, options);
  const before: PresentJob = { ...given, otherNumbers: [] };
  const laid = once(() =>
    make('laid', before, { motif: memory.given(motif) }, (job, { motif }) => {
      const sized = sizeMotif(motif, job.size);
      const lattice = makeLattice(job.repeat, sized.frame.widthMm, sized.frame.heightMm);
      return { motif: sized, lattice, ...layRepeat(sized.shapes, lattice, { ...job, reachMm: job.joins.reachMm }) };
    }),
  );
  const followed = once(
    () => make('followed', before, { laid: laid() }, (job, { laid }) => followSize(job, laid.cell)).value,
  );
  const job = once(() => {
    const { ties, numbers, takenAt } = followed().job;
    return { ...given, ties, numbers, takenAt };
  });
  const stages = jobStages({ job, laid, make, otherNumbers: () => followed().otherNumbers });
  const { pattern, joins, shares, stencils, cut, numbers, strength, proof, plan } = stages;
  const inks = (): Ink[] => laid().value.cell.inks.map(({ ink }) => ink);
  const lattice = (): Lattice => laid().value.lattice;
  const drawnFindings = once(() => [
    ...laid().value.motif.notices.map(noticeFinding),
    ...spillFindings(laid().value.spill),
    ...strandedFindings(pattern().value.strandedTies, {
      widthMm: given.paper.tie.widthMm,
      from: followed().tiesFrom,
      now: lattice(),
    }),
  ]);
  const sheets = (): readonly Sheet[] => proof().value.sheets;
  const sheetFindings = once(() => [
    ...(shares().value?.findings ?? []),
    ...droppedFindings(sheets(), lattice()),
    ...sheets().flatMap(dotFindings),
    ...registrationFindings(given, sheets()),
    ...otherSheetFindings(job(), lattice()),
    ...proof().value.findings,
  ]);
  const judged = once(() => judgedSheets({ sheets: sheets(), strength: strength().value }));
  const folded = (findings: readonly Finding[]): readonly Finding[] => foldFindings(findings, { limit: FOLD_LIMIT });
  return lazily<JobResult>({
    job,
    motif: () => laid().value.motif,
    lattice,
    openings: () => pattern().value.openings,
    joins: () => joins().value.joins,
    sheets,
    strength: () => strength().value,
    kept: () => Object.fromEntries(numbers().value.map(({ kept }, k) => [stencils().value[k].key, kept])),
    cell: () => pattern().value.cloth,
    cutOut: () => cut().value.map((sheet, k) => wholeOutlines(sheet, numbers().value[k])),
    strandedTies: () => pattern().value.strandedTies,
    tiesFrom: () => followed().tiesFrom,
    strips: () => stencils().value.map(({ strips }) => strips),
    plan: () => plan().value,
    clothFindings: () => [...joins().value.findings, ...folded(drawnFindings()), ...said],
    sheetFindings: () => [...joins().value.findings, ...folded([...drawnFindings(), ...sheetFindings()]), ...said],
    findings: () => [
      ...joins().value.findings,
      ...folded([...drawnFindings(), ...sheetFindings()]),
      ...foldFindings(judged().flatMap(paperFindings), { limit: FOLD_LIMIT, worse: graverPaper }),
      ...said,
    ],
    statements: () => statementsOf(given, inks()),
    inks,
  });
}

interface Begun {
  /** With places at the present size of the unit. */
  readonly job: () => Job;
  readonly otherNumbers: () => PresentJob['otherNumbers'];
  readonly laid: Ready<'laid'>;
  readonly make: StageMemory['make'];
}

/** The stages after the artwork is laid, each worked out when it is asked for. */
function jobStages({ job: asked, otherNumbers, laid, make }: Begun) {
  // What was done to sheets of another size does not count.
  const job = once(() => ({ ...marksOfSheet(asked(), laid().value.lattice), otherNumbers: otherNumbers() }));
  const margins = once(() =>
    make('margins', job(), { laid: laid() }, (own, { laid }) => ({
      lapMm: own.lapMm,
      oneWide: oneColumn(own.cloth, own.across * laid.lattice.widthMm),
    })),
  );
  const stepping = once(() =>
    make('stepping', job(), { laid: laid() }, (own, { laid: { lattice } }) =>
      steppingOf(own, { widthMm: own.across * lattice.widthMm, heightMm: own.down * lattice.heightMm }),
    ),
  );
  const none = { key: 'one sheet an ink', value: null };
  const single = once(() => sheetStages(singleSheets(job()), { laid, margins, shares: () => none }, make));
  const shares = once((): Made<DoublePlan | null> => {
    if (!job().double.on) return none;
    const { pattern, stencils, cut, numbers, necks } = single();
    const taken = {
      laid: laid(),
      pattern: pattern(),
      stencils: stencils(),
      cut: cut(),
      numbers: numbers(),
      necks: necks(),
    };
    return make('shares', singleSheets(job()), taken, planDouble);
  });
  const stages = once(() => sheetStages(job(), { laid, margins, shares }, make));
  const joins = once(() =>
    make(
      'joins',
      job(),
      { laid: laid(), margins: margins(), pattern: stages().pattern() },
      (own, { laid: { lattice }, margins, pattern }) => {
        const options = { ...own.joins, sideJoinMeetsNothing: margins.oneWide && own.across === 1 };
        const { joins, told } = checkJoins(seamStretches(pattern.drawn), lattice, options);
        return { joins, findings: joinFindings(told, lattice, options) };
      },
    ),
  );
  const proof = once(() =>
    make(
      'proof',
      job(),
      { laid: laid(), sheets: plannedSheets({ laid, margins, stepping }, job(), stages(), make) },
      (own, { laid, sheets }) => sheetsAfterProof(sheets, own, laid.lattice),
    ),
  );
  const plan = once(() =>
    make('plan', job(), { laid: laid(), proof: proof() }, (own, { laid, proof }) =>
      planOf({ job: own, sheets: proof.sheets, lattice: laid.lattice }),
    ),
  );
  return {
    shares,
    joins,
    proof,
    plan,
    pattern: () => stages().pattern(),
    stencils: () => stages().stencils(),
    cut: () => stages().cut(),
    numbers: () => stages().numbers(),
    strength: () => stages().strength(),
  };
}

/** Works stages out, says what is under way, and puts the artwork's name before what it is refused for. */
function telling(memory: StageMemory, { progress, name }: RunOptions): StageMemory['make'] {
  let reached = 0;
  return (stage, job, taken, work) =>
    memory.make(stage, job, taken, (own, given) => {
      const [words, share] = SAID[stage] ?? [null, 0];
      reached = Math.max(reached, share);
      if (words !== null) progress?.(words, reached);
      try {
        return work(own, given);
      } catch (error) {
        if (name === undefined || stage === 'plan' || !(error instanceof InputError)) throw error;
        throw new InputError(said((voice) => `${name}: ${inVoice(error, voice)}`));
      }
    });
}
