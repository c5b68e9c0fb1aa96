import { FOLDERS } from './sources.mjs';
import { shortName } from './try.mjs';

/** How many of some tried mutants were noticed. Those that never came back are noticed too, and counted apart. */
export function score(tried) {
  const killed = tried.filter(({ verdict }) => verdict !== 'survived');
  const timedOut = killed.filter(({ verdict }) => verdict === 'timed out').length;
  const share = tried.length === 0 ? null : killed.length / tried.length;
  return { mutants: tried.length, killed: killed.length, timedOut, share };
}

/** A run in words: folder by folder, in all, and what survived with the reason that is kept for it. */
export function report(tried, { title, reasons }) {
  const lines = ['', title, ''];
  for (const folder of FOLDERS) {
    const part = tried.filter(({ mutant }) => mutant.file.split('/').at(-2) === folder);
    if (part.length > 0) lines.push(line(folder, score(part)));
  }
  lines.push(line('all', score(tried)));
  const survivors = tried.filter(({ verdict }) => verdict === 'survived');
  if (survivors.length > 0) lines.push('', 'Not noticed:');
  for (const { mutant, reachedBy } of survivors) {
    const reason = reasons[shortName(mutant)] ?? (reachedBy === 0 ? 'no test runs this code' : 'no reason is known');
    lines.push(`  ${shortName(mutant)}: ${reason}`);
  }
  return lines.join('\n');
}

function line(name, { mutants, killed, timedOut, share }) {
  const late = timedOut > 0 ? `, ${timedOut} of them by time` : '';
  return `  ${name.padEnd(10)} ${killed} of ${mutants} noticed${late} (${(100 * share).toFixed(1)} %)`;
}

/** A run as data. */
export function summary({ seed, tried }, reasons) {
  return {
    seed,
    ...score(tried),
    tried: tried.map(({ mutant, verdict, by, ms, reachedBy }) => ({
      name: shortName(mutant),
      verdict,
      by,
      seconds: Math.round(ms / 100) / 10,
      testFiles: reachedBy,
      ...(verdict === 'survived' ? { reason: reasons[shortName(mutant)] ?? null } : {}),
    })),
  };
}
