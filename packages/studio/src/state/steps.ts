import type { Topic } from '@okuri/core';

/** A step of the work: what a finding is about is settled there. */
export type StepId = Topic;

/** The order of the work. */
export const STEPS: readonly StepId[] = [
  'motif',
  'repeat',
  'joins',
  'paper',
  'margin',
  'squaring',
  'cloth',
  'print',
  'proof',
];

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
