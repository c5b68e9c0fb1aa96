import type { FunctionComponent } from 'preact';
import type { StepId } from '../state/steps';
import { ClothStep } from './cloth-step';
import { JoinsStep } from './joins-step';
import { MarginStep } from './margin-step';
import { MotifStep } from './motif-step';
import { PaperStep } from './paper-step';
import { PrintStep } from './print-step';
import { ProofStep } from './proof-step';
import { RepeatStep } from './repeat-step';
import { SquaringStep } from './squaring-step';

/** The controls of each step. */
export const STEP_PARTS: Readonly<Record<StepId, FunctionComponent>> = {
  motif: MotifStep,
  repeat: RepeatStep,
  joins: JoinsStep,
  paper: PaperStep,
  margin: MarginStep,
  squaring: SquaringStep,
  cloth: ClothStep,
  print: PrintStep,
  proof: ProofStep,
};
