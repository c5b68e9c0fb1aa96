import type { Severity } from '@okuri/core';
import { SEVERITY_WORDS } from '../words/severity';

/** A finding's line in a report for the terminal: its weight, and what it says. */
const FINDING = /^\s+(stop|fix|look|note)\s+(.*)$/;

/** A report of several lines, as the command prints it: each a paragraph, findings with their sign and word. */
export function ReportText({ text, late = false }: { readonly text: string; readonly late?: boolean }) {
  const lines = text.split('\n').filter((line) => line.trim() !== '');
  return (
    <div class={late ? 'report findings-stale' : 'report'} role="status">
      {lines.map((line, k) => (
        <p key={k}>
          <ReportLine line={line} />
        </p>
      ))}
    </div>
  );
}

function ReportLine({ line }: { readonly line: string }) {
  const [, weight, words] = FINDING.exec(line) ?? [];
  if (weight === undefined) return <>{line.trim()}</>;
  const { sign, word } = SEVERITY_WORDS[weight as Severity];
  return (
    <>
      <strong class={`mark-${weight}`}>
        <span aria-hidden="true">{sign}</span> {word}:
      </strong>{' '}
      {words}
    </>
  );
}
