import { type Job, type ProofOffset, type ProofReport, withOffsets } from '@okuri/core';
import { endNamed, type ProofSheet, SPANS, type Span, underOwnNames, writtenProof } from '@okuri/core/inside';
import type { MeasuredTexts } from './project';
import type { JobEdit } from './tie-edits';

type Ends = Pick<ProofSheet, 'key' | 'ends'>;

/** What a scan measured, taken into the job; what was typed stays where the scan shows nothing. */
export function takeOverEdit(job: Pick<Job, 'proof'>, of: Ends, { offsets }: Pick<ProofReport, 'offsets'>): JobEdit {
  return edited(withOffsets(job.proof, withKept(job, of), { measured: offsets, typed: [] }));
}

/** One offset typed by hand; null takes it back. */
export function typedEdit(job: Pick<Job, 'proof'>, of: Ends, name: string, offsetMm: number | null): JobEdit {
  return edited(withOffsets(job.proof, withKept(job, of), { measured: null, typed: [{ name, offsetMm }] }));
}

/** All offsets of a sheet taken back. */
export function noOffsetsEdit({ proof }: Pick<Job, 'proof'>, { key }: Ends): JobEdit {
  const { [key]: _, ...others } = proof;
  return edited(others);
}

/** What the job keeps of a sheet, by the names of its ends. */
export function keptOffsets({ proof }: Pick<Job, 'proof'>, { key, ends }: Ends): ReadonlyMap<string, ProofOffset> {
  const known = underOwnNames(ends, proof[key] ?? []).filter(({ name }) => endNamed(ends, name) !== undefined);
  return new Map(known.map((one) => [one.name, one]));
}

/** Distances from dot to dot as they printed, as they are typed in the step Squaring. */
export function distanceTexts({ distances }: Pick<ProofReport, 'distances'>): MeasuredTexts | null {
  if (distances === null) return null;
  return Object.fromEntries(SPANS.map((span: Span) => [span, `${distances[span].toFixed(1)} mm`]));
}

function withKept(job: Pick<Job, 'proof'>, of: Ends) {
  // As the job stands now: the engine may not have caught up with the last change.
  return { ...of, kept: [...keptOffsets(job, of).values()] };
}

function edited(proof: Job['proof']): JobEdit {
  const written = writtenProof(proof);
  return { path: ['proof'], value: Object.keys(written).length > 0 ? written : undefined };
}
