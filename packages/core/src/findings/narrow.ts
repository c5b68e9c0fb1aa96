import type { Point } from '../geometry/types.js';
import type { Finding } from '../motif/finding.js';
import { isSevere } from '../strength/severe.js';
import { betterStroke, tonguesAgainst } from '../strength/tongues.js';
import type { NarrowPlace, PaperReport, Stroke, Tongue } from '../strength/types.js';
import { rounded } from '../units/round.js';

export interface NarrowFindingOptions {
  /** Gauze is stuck over the sheet before it prints: what asks for it is answered, and is no more to mend than to be known. */
  readonly gauze: boolean;
  /** The number of an opening that people are shown. */
  readonly name: (opening: number) => string;
  /** Sheet mm to the unit's mm. */
  readonly place: (p: Point) => Point;
}

/** What to say about necks, slits and the tongues that point into the stroke, one finding each, in their order. */
export function narrowFindings(
  { necks, slits, tongues, rules }: Pick<PaperReport, 'necks' | 'slits' | 'tongues' | 'rules'>,
  options: NarrowFindingOptions,
): Finding[] {
  const against = tonguesAgainst(tongues, rules.stroke);
  const better = betterStroke(tongues);
  return [
    ...necks.map((neck) => neckFinding(neck, rules.neckMm, options)),
    ...slits.map((slit) => slitFinding(slit, rules.slitMm, options)),
    ...against.map((tongue) => tongueFinding(tongue, rules.stroke, better, options)),
  ];
}

function neckFinding(neck: NarrowPlace, limitMm: number, { gauze, name, place }: NarrowFindingOptions): Finding {
  const grave = isSevere(neck);
  const [p, q] = neck.openings;
  const where = between(p, q, name);
  const hangs = neck.weak ? `, and ${area(neck.hangsMm2)} of paper hang on it alone` : '';
  const todo = !grave
    ? 'cut it last and with care, or widen it'
    : gauze
      ? 'the gauze has to hold it; until that is dry cut it last and with care, with a strip glued over it'
      : 'widen it, leave a tie beside it, or glue a strip or gauze over it';
  return {
    code: 'neck',
    topic: 'paper',
    severity: !grave ? 'note' : gauze ? 'look' : 'fix',
    message: `The paper ${where} is only ${mm(neck.widthMm)} wide${over(neck)} (at least ${mm(limitMm)} asked for)${hangs}: ${todo}.`,
    atMm: place(neck.atMm),
    measure: {
      widthMm: rounded(neck.widthMm),
      lengthMm: rounded(neck.lengthMm),
      limitMm,
      weak: neck.weak ? 'yes' : 'no',
      hangsMm2: rounded(neck.hangsMm2),
      openings: [...new Set([p, q])].map((o) => (o < 0 ? 'edge' : name(o))).join(', '),
    },
  };
}

function slitFinding(slit: NarrowPlace, limitMm: number, { name, place }: NarrowFindingOptions): Finding {
  const grave = isSevere(slit);
  const opening = name(slit.openings[0]);
  const todo = grave
    ? 'widen it, or paste will not pass and the line breaks off'
    : 'widen it, or look at it in the proof';
  return {
    code: 'slit',
    topic: 'paper',
    severity: grave ? 'fix' : 'note',
    message: `Opening ${opening} is only ${mm(slit.widthMm)} wide${over(slit)} (at least ${mm(limitMm)} asked for): ${todo}.`,
    atMm: place(slit.atMm),
    measure: { widthMm: rounded(slit.widthMm), lengthMm: rounded(slit.lengthMm), limitMm, opening },
  };
}

function tongueFinding(
  tongue: Tongue,
  stroke: Stroke,
  better: Stroke,
  { gauze, name, place }: NarrowFindingOptions,
): Finding {
  const at = tongue.opening < 0 ? 'at the edge of the sheet' : `in opening ${name(tongue.opening)}`;
  const other = better === stroke ? '' : `stroke ${WORDS[better]} instead`;
  const todo = gauze
    ? `see that the gauze is stuck down well at its tip and root${other && `, or ${other}`}`
    : `${other && `${other}, `}leave a tie at its tip, or put gauze over it`;
  return {
    code: 'tongue',
    topic: 'paper',
    severity: gauze ? 'note' : 'look',
    message: `A tongue of paper ${at}, ${mm(tongue.lengthMm)} long on a root of ${mm(tongue.rootMm)}, points into the stroke (${WORDS[stroke]}) and may lift: ${todo}.`,
    atMm: place(tongue.tip),
    measure: {
      lengthMm: rounded(tongue.lengthMm),
      rootMm: rounded(tongue.rootMm),
      opening: tongue.opening < 0 ? 'edge' : name(tongue.opening),
      stroke,
      betterStroke: better,
    },
  };
}

const WORDS: Readonly<Record<Stroke, string>> = {
  down: 'downward',
  up: 'upward',
  left: 'to the left',
  right: 'to the right',
};

function between(p: number, q: number, name: (opening: number) => string): string {
  if (p < 0 && q < 0) return 'between two edges of the sheet';
  if (p < 0 || q < 0) return `between opening ${name(Math.max(p, q))} and the edge of the sheet`;
  return p === q ? `beside opening ${name(p)}` : `between openings ${name(p)} and ${name(q)}`;
}

/** Lengths below a tenth of a millimetre are not worth a word. */
function over({ lengthMm }: NarrowPlace): string {
  return lengthMm < 0.05 ? '' : ` over ${mm(lengthMm)}`;
}

/** Hundredths below a millimetre, else tenths. */
function mm(value: number): string {
  return `${value.toFixed(value < 0.995 ? 2 : 1)} mm`;
}

function area(mm2: number): string {
  if (mm2 < 0.05) return 'under 0.1 mm²';
  return `${mm2.toFixed(mm2 < 9.95 ? 1 : 0)} mm²`;
}
