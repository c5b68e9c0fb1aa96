import type { Finding } from '../motif/finding.js';
import type { SpillEvidence, SpillReport } from '../repeat/spill.js';
import { rounded } from '../units/round.js';
import { said, type Voice } from '../units/voice.js';
import { shareText } from '../units/words.js';

/**
 * What a person should know of artwork that pokes out of the unit or lies beside it. Codes: `outside-carried-along`, `spill-carried`, `spill-trimmed`,
 * `copies-left-out` (`note`); `outside-left-out`, `drawn-for-other-repeat` (`look`).
 */
export function spillFindings(report: SpillReport): Finding[] {
  const { along, carried, trimmed, copies, outside, otherRepeat } = report;
  const found: Finding[] = [];
  const say = (
    code: string,
    severity: Finding['severity'],
    message: string,
    measure: NonNullable<Finding['measure']>,
  ): void => {
    found.push({ code, topic: 'repeat', severity, message, atMm: null, measure });
  };
  if (along.length > 0) {
    const [lies, is] = along.length === 1 ? ['lies', 'is'] : ['lie', 'are'];
    say(
      'outside-carried-along',
      'note',
      `${shapesThat(along.length, lies, lies)} outside the unit beside a shape that is carried over, and ${is} carried along with it (${names(along)}).`,
      { shapes: along.length },
    );
  }
  if (carried.shapes > 0) found.push(pokingFinding('spill-carried', carried, 'carried over to the other side', report));
  if (trimmed.shapes > 0) {
    found.push(pokingFinding('spill-trimmed', trimmed, 'trimmed at the seam, because both halves are drawn', report));
  }
  if (copies.length > 0) {
    say(
      'copies-left-out',
      'note',
      `${shapesThat(copies.length, 'repeats', 'repeat')} another exactly a whole number of steps away and ${copies.length === 1 ? 'is' : 'are'} left out (${names(copies)}).`,
      { shapes: copies.length },
    );
  }
  if (outside.length > 0) {
    say(
      'outside-left-out',
      'look',
      `${shapesThat(outside.length, 'lies', 'lie')} wholly outside the unit and ${outside.length === 1 ? 'is' : 'are'} left out (${names(outside)}).`,
      { shapes: outside.length },
    );
  }
  if (otherRepeat !== null) {
    const { name, share, chosenShare, ends } = otherRepeat;
    say(
      'drawn-for-other-repeat',
      'look',
      `The artwork looks drawn for a ${name} repeat: ${shareText(share)} of its ends at the seams find a partner there, ${shareText(chosenShare)} in the chosen one; check the job's repeat.`,
      { best: name, bestShare: rounded(share, 3), chosenShare: rounded(chosenShare, 3), ends },
    );
  }
  return found;
}

function pokingFinding(
  code: string,
  { shapes, ends, partners }: SpillEvidence,
  how: string,
  { spill }: SpillReport,
): Finding {
  const why = (voice: Voice): string =>
    spill === 'auto'
      ? `of their ${ends} ends at the seams ${partners} have a partner opposite`
      : voice === 'command'
        ? `as the job's spill "${spill}" says`
        : 'as was chosen for shapes that poke out';
  return {
    code,
    topic: 'repeat',
    severity: 'note',
    ...said(
      (voice) =>
        `${shapesThat(shapes, 'pokes', 'poke')} out of the unit and ${shapes === 1 ? 'is' : 'are'} ${how} (${why(voice)}).`,
    ),
    atMm: null,
    measure: { shapes, ends, partners },
  };
}

function names(ids: readonly string[]): string {
  const listed = ids.slice(0, 3);
  return ids.length > 3 ? `${listed.join(', ')}, …` : listed.join(', ');
}

function shapesThat(n: number, one: string, many: string): string {
  return n === 1 ? `One shape ${one}` : `${n} shapes ${many}`;
}
