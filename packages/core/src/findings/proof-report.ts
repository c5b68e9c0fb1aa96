import type { Finding } from '../motif/finding.js';
import type { LaidProof, ProofReport } from '../proof/types.js';
import { formatMm } from '../units/format.js';
import { type Said, said, type Voice } from '../units/voice.js';
import { squareFindings } from './squaring.js';

/** More of the second cut than this printed, 0 to 1: the sheet was finished before its proof. */
const HELD_PRINTED = 0.3;

/** Where an offset goes that was measured by hand. */
const BY_HAND: Readonly<Record<Voice, string>> = {
  command: 'give --offset',
  window: 'type it into the list',
  print: 'write it on the form',
};

/** A spread below this is nothing that can be seen, mm. */
const SPREAD_TOLD_MM = 0.02;

/** Where fewer of the plan and the print agree, the picture is looked at with care, 0 to 1. */
const AGREE_WELL = 0.9;

/**
 * What a person should know of a compared proof, besides the tables: how far the picture can be trusted, and what it proves of the sheet's shape. Differences are
 * told, not judged. Codes: `proof-photograph`, `proof-spread`, `proof-half-seen`, `proof-held-printed`, `proof-paper-moved`, `proof-agrees-little`,
 * `proof-unmeasured`, `proof-dots`,
 * and those of `squareFindings`.
 */
export function reportFindings(report: ProofReport): Finding[] {
  const { laid, spreadMm, heldShare, unmeasured, square } = report;
  const found: Finding[] = [];
  const say = (
    code: string,
    severity: Finding['severity'],
    message: string | Said,
    measure: Finding['measure'] = null,
  ): void => {
    found.push({
      code: `proof-${code}`,
      topic: 'proof',
      severity,
      ...(typeof message === 'string' ? { message } : message),
      atMm: null,
      measure,
    });
  };
  if (laid.scale === null) {
    say(
      'photograph',
      'note',
      said(
        (voice) =>
          `The picture is taken for a photograph: the dots alone give its scale, so it can't tell whether the sheet is square, and a lens may bend lines by some tenths of a mm. Scan it flat for that${voice === 'command' ? ', or photograph it on a sheet of known size and give --points and --apart' : ''}.`,
      ),
    );
  }
  if (laid.frame === 'stretched') {
    say(
      'paper-moved',
      'look',
      'At its true size the printed dots lie more than 1 mm from their places, so the paper moved or the dots did not go where they were to: edges are measured against the dots, on which the sheet is stepped.',
    );
  }
  if (Math.abs(spreadMm) >= SPREAD_TOLD_MM) {
    const way = spreadMm > 0 ? 'outside' : 'inside';
    say(
      'spread',
      'note',
      `In the middle of all edges the print lies ${formatMm(Math.abs(spreadMm))} ${way} of the plan: that is paste (or a knife that keeps to one side of the line), not single cuts. It is taken off below, since the second cut spreads alike.`,
      { spreadMm },
    );
  }
  if (laid.agreement < AGREE_WELL) {
    say(
      'agrees-little',
      'look',
      `Only ${Math.round(100 * laid.agreement)} % of the print and the plan agree: look at the proof's drawing before the offsets are used.`,
      { agreement: laid.agreement },
    );
  }
  if (heldShare > HELD_PRINTED) {
    say(
      'held-printed',
      'look',
      `The held margin printed too (${Math.round(100 * heldShare)} % of the second cut): this looks like the finished sheet, whose second cut is made already.`,
      { heldShare },
    );
  }
  if (unmeasured.length > 0) {
    say(
      'unmeasured',
      'note',
      said(
        (voice) =>
          `At ${unmeasured.join(', ')} the print shows no edge to measure within reach: the second cut stays as planned there; measure by hand and ${BY_HAND[voice]}.`,
      ),
      { ends: unmeasured.join(' ') },
    );
  }
  const { missingDots } = laid;
  if (missingDots.length > 0) {
    say('dots', 'note', `${dotsNotFound(laid)}: the others carry the print.`, { dots: missingDots.join(' ') });
  }
  return [...found, ...(square === null ? [] : squareFindings(square))];
}

function dotsNotFound({ missingDots }: LaidProof): string {
  const names = missingDots.length === 1 ? `Dot ${missingDots[0]} was` : `Dots ${missingDots.join(', ')} were`;
  return `${names} not found in the picture`;
}
