import { inVoice, said } from '../units/voice.js';
import type { Finding, Severity } from './finding.js';

export interface FoldOptions {
  /** More findings alike than this become one. */
  readonly limit: number;
  /**
   * Compares two findings of one code and severity: below 0 where the first is worse. Default: the larger first number in `measure` is worse.
   */
  readonly worse?: (p: Finding, q: Finding) => number;
}

/**
 * Folds findings alike (same code and severity) into one line where there are more than `limit` of them: people stop reading long
 * lists. The line stands where the first of them stood, has the place and the measures of the worst, its sentence after the count, and
 * the count as `measure.alike`. Everything else stays as it is, in order. Folding again changes nothing.
 */
export function foldFindings(findings: readonly Finding[], options: FoldOptions): readonly Finding[] {
  const groups = new Map<string, Finding[]>();
  for (const finding of findings) {
    const key = keyOf(finding);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [finding]);
    else group.push(finding);
  }
  const worse = options.worse ?? largerFirst;
  const told = new Set<string>();
  return findings.flatMap((finding) => {
    const key = keyOf(finding);
    const group = groups.get(key) ?? [];
    if (group.length <= options.limit) return [finding];
    if (told.has(key)) return [];
    told.add(key);
    const worst = group.reduce((best, next) => (worse(next, best) < 0 ? next : best));
    const sentence = said((voice) => `${group.length} places have this in common; the worst: ${inVoice(worst, voice)}`);
    return [{ ...worst, ...sentence, measure: { ...worst.measure, alike: group.length } }];
  });
}

function keyOf(finding: { readonly code: string; readonly severity: Severity }): string {
  return `${finding.code} ${finding.severity}`;
}

function largerFirst(p: Finding, q: Finding): number {
  return firstNumber(q) - firstNumber(p);
}

function firstNumber(finding: Finding): number {
  const values = Object.values(finding.measure ?? {});
  const found = values.find((value) => typeof value === 'number');
  return typeof found === 'number' ? Math.abs(found) : 0;
}
