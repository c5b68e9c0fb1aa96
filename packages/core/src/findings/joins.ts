import type { Point, Side } from '../geometry/types.js';
import type { JoinTold } from '../joins/check-joins.js';
import type { JudgedPair } from '../joins/judge-pair.js';
import { FIX_FACTOR, FOLD_LIMIT, type JoinOptions } from '../joins/options.js';
import type { RunEnd } from '../joins/runs.js';
import { ownPlace, partnerPlace, pointOnSide, type Seam } from '../joins/seam.js';
import type { Finding, Severity } from '../motif/finding.js';
import { foldFindings } from '../motif/fold-findings.js';
import type { Lattice } from '../repeat/types.js';
import { rounded } from '../units/round.js';
import { inVoice, said } from '../units/voice.js';

/**
 * What a person should know of joins, in their order, folded where there are many alike. Codes: `join-off` (`fix` or `look`), `join-step`, `join-kink`, `join-buried`,
 * `join-flush` (`look`), `join-open` (`fix`, or `look` for a tip).
 */
export function joinFindings(told: readonly JoinTold[], lattice: Lattice, options: JoinOptions): readonly Finding[] {
  const findings = told.flatMap((one): Finding[] => {
    const finding =
      one.what === 'pair' ? pairFinding(one.judged, one.at) : unpairedFinding(one.ends, one.seam, lattice, options);
    const seam = one.what === 'pair' ? one.judged.pair.seam : one.seam;
    return finding === null ? [] : [downgraded(finding, seam, options)];
  });
  return foldFindings(findings, { limit: FOLD_LIMIT });
}

/** What to say about a pair; null where it meets. */
function pairFinding(judged: JudgedPair, at: Point): Finding | null {
  const { pair, widthMm, severity, flush, state } = judged;
  if (severity === null) return null;
  const { seam, own, partner, offsetMm, gapMm, kinkDeg } = pair;
  const opening = `${mm(widthMm)} wide opening`;
  const there = `on the ${edge(partner.side)}, ${along(partner.side, partner.atMm)}`;
  const here = `At the ${edge(own.side)} ${along(own.side, own.atMm)}`;
  const measure = {
    gapMm: rounded(gapMm),
    offsetMm: rounded(offsetMm),
    ...(kinkDeg === null ? {} : { kinkDeg: rounded(kinkDeg) }),
    widthMm: rounded(widthMm),
    seam: seam.name,
    placeMm: rounded(seam.name === 'right' ? at.y : at.x),
    ink: own.ink,
  };
  if (state === 'bends') {
    const bend = `${(kinkDeg ?? 0).toFixed(0)}°`;
    const message = `${here} the outline meets its partner ${there}, but bends by ${bend} there (${opening}): turn one of the two if the bend is not meant.`;
    return { code: 'join-kink', topic: 'joins', severity, message, atMm: at, measure };
  }
  const off = `is off by ${mm(Math.abs(offsetMm))} (gap ${mm(gapMm)} across the line; ${opening})`;
  if (flush && severity === 'look') {
    const message = `${here} an outline that ends flush with the edge ${off} from the one ${there}: leave it if a step is meant, else bring the two together.`;
    return { code: 'join-step', topic: 'joins', severity, message, atMm: at, measure };
  }
  const way = tooFar(seam, offsetMm);
  const message = `${here} the outline ${off}: its partner ${there}, lies too far ${way}; move one of the two until they meet.`;
  return { code: 'join-off', topic: 'joins', severity, message, atMm: at, measure };
}

function unpairedFinding(group: readonly RunEnd[], seam: Seam, lattice: Lattice, options: JoinOptions): Finding {
  const [end] = group;
  const { side, run } = end;
  const across = side === seam.ownSide ? seam.partnerSide : seam.ownSide;
  const onOwn = ownPlace(seam, side, end.atMm);
  const opposite = side === seam.ownSide ? partnerPlace(seam, onOwn) : onOwn;
  const runsOn = group.some((e) => e.runsOn);
  const here = `At the ${edge(side)} ${along(side, end.atMm)}`;
  const there = `the ${edge(across)}, ${along(across, opposite)}`;
  const whole = group.length > 1;
  const measure = {
    widthMm: rounded(run.widthMm),
    ends: group.length,
    seam: seam.name,
    placeMm: rounded(onOwn),
    ink: end.ink,
  };
  const what = whole ? `an opening ${mm(run.widthMm)} wide` : `one side of an opening ${mm(run.widthMm)} wide`;
  // Carried artwork meets itself by construction: an end without a partner has come to lie within other artwork there.
  const buried = group.every((e) => !e.runsOn || e.carried);
  if (runsOn && buried) {
    const message = `${here} ${what} is carried over the edge and ends within other artwork on ${there}: leave it if it is meant to end so.`;
    return {
      code: 'join-buried',
      topic: 'joins',
      severity: 'look',
      message,
      atMm: pointOnSide(lattice, side, end.atMm),
      measure,
    };
  }
  const message = runsOn
    ? `${here} ${what} runs on past the edge and no outline meets it on ${there}: draw what is missing there, or end it at the edge.`
    : `${here} ${what} ends flush with the edge and no outline meets it on ${there}: leave it if it is meant to end so, else draw its other half.`;
  // A tip so narrow that even its whole width is no gap to mend only touches the seam.
  const severity: Severity = runsOn && run.widthMm >= FIX_FACTOR * options.gapMinMm ? 'fix' : 'look';
  return {
    code: runsOn ? 'join-open' : 'join-flush',
    topic: 'joins',
    severity,
    message,
    atMm: pointOnSide(lattice, side, end.atMm),
    measure,
  };
}

function edge(side: Side): string {
  return `${side} edge`;
}

function along(side: Side, atMm: number): string {
  return side === 'left' || side === 'right' ? `${mm(atMm)} from the top` : `${mm(atMm)} from the left`;
}

function tooFar(seam: Seam, offsetMm: number): string {
  if (seam.name === 'right') return offsetMm > 0 ? 'down' : 'up';
  return offsetMm > 0 ? 'right' : 'left';
}

/** A length for a person: tenths of a millimetre, hundredths below one. */
function mm(value: number): string {
  return `${value.toFixed(Math.abs(value) < 0.995 ? 2 : 1)} mm`;
}

/** Where the cloth is one unit wide nothing is ever printed beside it: what is wrong with the side join is only for information. */
function downgraded(finding: Finding, seam: Seam, options: JoinOptions): Finding {
  if (seam.name !== 'right' || options.sideJoinMeetsNothing !== true) return finding;
  const sentence = said(
    (voice) =>
      `${inVoice(finding, voice)} (On cloth one unit wide the side join meets nothing: it does not matter there.)`,
  );
  return { ...finding, severity: 'note', ...sentence };
}
