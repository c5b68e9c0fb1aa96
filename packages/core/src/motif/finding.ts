import type { Point } from '../geometry/types.js';
import type { Said } from '../units/voice.js';

/** `stop`: can't be printed. `fix`: will show or tear. `look`: only a person can tell. `note`: for information. */
export type Severity = 'stop' | 'fix' | 'look' | 'note';

/** The step of the work in which a finding is settled. */
export type Topic = 'motif' | 'repeat' | 'joins' | 'paper' | 'margin' | 'squaring' | 'cloth' | 'print' | 'proof';

/** Something a person should know. The code is stable; the sentence is built from the measures. */
export interface Finding extends Said {
  readonly code: string;
  readonly topic: Topic;
  readonly severity: Severity;
  /** Where it is on the unit, mm from its upper left; null where it is about the whole. */
  readonly atMm: Point | null;
  readonly measure: Readonly<Record<string, number | string>> | null;
}

/** Severities, worst first. */
export const SEVERITIES: readonly Severity[] = ['stop', 'fix', 'look', 'note'];

/** The findings, worst first, otherwise in the order they came. */
export function bySeverity(findings: readonly Finding[]): Finding[] {
  return SEVERITIES.flatMap((severity) => findings.filter((finding) => finding.severity === severity));
}

/** How many findings there are of each severity. */
export function countFindings(findings: readonly Finding[]): Record<Severity, number> {
  const counts: Record<Severity, number> = { stop: 0, fix: 0, look: 0, note: 0 };
  for (const { severity } of findings) counts[severity]++;
  return counts;
}

/** Whether anything has to be mended before the first cut: a `stop` or a `fix`. */
export function mustMend(findings: readonly Finding[]): boolean {
  return findings.some(({ severity }) => severity === 'stop' || severity === 'fix');
}
