/** The order of the work. */
export const STEPS = ['motif', 'repeat', 'joins', 'paper', 'margin', 'squaring', 'cloth', 'print', 'proof'] as const;

export type StepId = (typeof STEPS)[number];

/** How a step is called, and what it is for. */
export const STEP_WORDS: Readonly<Record<StepId, { readonly name: string; readonly purpose: string }>> = {
  motif: { name: 'Motif', purpose: 'The drawing of one unit at its true size, and what of it is cut.' },
  repeat: { name: 'Repeat', purpose: 'How the unit steps along the cloth, and how many units one sheet holds.' },
  joins: {
    name: 'Joins',
    purpose: 'Every place where a shape crosses a seam has to meet its partner on the other side.',
  },
  paper: {
    name: 'Paper',
    purpose: 'Will the cut sheet hold together? What falls out, what is too thin, and where ties go.',
  },
  margin: {
    name: 'Held margin and dots',
    purpose: 'What stays uncut until the proof, and the holes that place each print.',
  },
  squaring: {
    name: 'Squaring',
    purpose: 'Six measurements between the corner holes tell whether the sheet is square.',
  },
  cloth: {
    name: 'Cloth and plan',
    purpose: 'How much cloth and paste, and in which order to print, never onto wet paste.',
  },
  print: {
    name: 'Print and hand over',
    purpose: 'Sheets at true scale, the cut guide and the drawings, to save or print.',
  },
  proof: {
    name: 'Proof',
    purpose: 'The first print shows what was really cut, and what the held margin must be cut to.',
  },
};

/** In which step a finding is settled, by how its code begins; the first that fits. */
const CODES: readonly (readonly [RegExp, StepId])[] = [
  [/^(?:join|drawn-for)/, 'joins'],
  [/^(?:island|neck|slit|tongue|tie|opening-long|ground-cut|cut-away|double|curve-tight|outline-jerky|knife)/, 'paper'],
  [/^(?:dots?-|movement)/, 'margin'],
  [/^drift/, 'squaring'],
  [/^plan/, 'cloth'],
  [/^(?:proof|second-cut)/, 'proof'],
  [/^(?:spill|outside|copies|repeat|height)/, 'repeat'],
];

/** The step in which a finding of this code is settled: the motif where nothing else fits. */
export function stepOfFinding(code: string): StepId {
  // There are a few codes and thousands of findings.
  let step = known.get(code);
  if (step === undefined) {
    step = CODES.find(([pattern]) => pattern.test(code))?.[1] ?? 'motif';
    known.set(code, step);
  }
  return step;
}

const known = new Map<string, StepId>();
