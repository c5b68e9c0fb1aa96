import {
  type Contour,
  type Finding,
  inVoice,
  type JudgedSheet,
  type Point,
  type Severity,
  type Topic,
} from '@okuri/core';
import { distance, islandFindings, narrowFindings, paperNames, tonguesAgainst, workFindings } from '@okuri/core/inside';

/** A place of a sheet at which its paper, its cut or a dot wants a look. mm from the upper left of the field, as printed. */
export interface SheetPlace {
  /** As the cut guide calls it: W1, W2, … where it names it, going on where it does not; a dot by its letter, a tie by its name. */
  readonly name: string;
  readonly code: string;
  readonly topic: Topic;
  readonly severity: Severity;
  readonly message: string;
  readonly at: Point;
  /** Its two banks, or its root and tip. */
  readonly across: readonly [Point, Point] | null;
  readonly outline: Contour | null;
}

const ORDER: readonly Severity[] = ['stop', 'fix', 'look', 'note'];

/**
 * The places of a sheet, the worst first: all that its paper has, also what the list of findings tells in one line, and the job's other findings that lie on
 * this sheet.
 */
export function sheetPlaces(sheet: JudgedSheet, findings: readonly Finding[]): SheetPlace[] {
  const next = nextName(sheet);
  const places = [...paperPlaces(sheet, next), ...otherPlaces(sheet, findings, next)];
  return ORDER.flatMap((severity) => places.filter((place) => place.severity === severity));
}

/** The finding of the list that tells of a place; null where it was folded into another. */
export function findingOf(place: SheetPlace, sheet: JudgedSheet, findings: readonly Finding[]): number | null {
  const found = findings.findIndex((finding) => isOf(finding, sheet) && tells(finding, place));
  return found < 0 ? null : found;
}

/** The place of a sheet that a finding tells of; null where there is none. */
export function placeOfFinding(finding: Finding, sheet: JudgedSheet, places: readonly SheetPlace[]): SheetPlace | null {
  return isOf(finding, sheet) ? (places.find((place) => tells(finding, place)) ?? null) : null;
}

/** By place in the list of findings, the names of the places of a sheet that they tell of. */
export function namesOfFindings(sheet: JudgedSheet, findings: readonly Finding[]): Map<number, string> {
  const key = (code: string, { x, y }: Point) => `${code} ${x.toFixed(4)} ${y.toFixed(4)}`;
  const names = new Map(sheetPlaces(sheet, findings).map(({ code, at, name }) => [key(code, at), name]));
  const found = new Map<number, string>();
  findings.forEach((finding, k) => {
    const name = finding.atMm !== null && isOf(finding, sheet) ? names.get(key(finding.code, finding.atMm)) : undefined;
    if (name !== undefined) found.set(k, name);
  });
  return found;
}

/** Whether a finding is about this sheet; of several sheets each has its paper's findings to itself. */
export function isOf(finding: Finding, sheet: JudgedSheet): boolean {
  const named = finding.measure?.sheet;
  return named === undefined || named === sheet.index;
}

function tells({ code, atMm }: Finding, place: SheetPlace): boolean {
  return code === place.code && atMm !== null && distance(atMm, place.at) < SAME_MM;
}

/** Two places nearer than this are one, mm: rounding only. */
const SAME_MM = 1e-6;

function paperPlaces(sheet: JudgedSheet, next: () => string): SheetPlace[] {
  const { paper, field, practice } = sheet;
  const onField = (p: Point): Point => ({ x: p.x - field.x0, y: p.y - field.y0 });
  const options = { gauze: practice.gauze, name: String, place: onField };
  const names = paperNames(sheet);
  const place = (
    finding: Finding,
    name: string,
    across: readonly [Point, Point] | null = null,
    outline: Contour | null = null,
  ): SheetPlace[] => {
    const { code, topic, severity, atMm } = finding;
    const message = inVoice(finding, 'window');
    if (atMm === null) return [];
    return [
      {
        name,
        code,
        topic,
        severity,
        message,
        at: atMm,
        across: across && [onField(across[0]), onField(across[1])],
        outline,
      },
    ];
  };
  // Findings come in the order of what they tell of.
  const narrow = narrowFindings(paper, options);
  const against = tonguesAgainst(paper.tongues, paper.rules.stroke);
  const necks = paper.necks.map((neck, k) => {
    const name = names.weak.find((weak) => weak.neck === neck)?.name;
    return { finding: narrow[k], across: [neck.from, neck.to] as const, name };
  });
  const slits = paper.slits.map((slit, k) => ({
    finding: narrow[paper.necks.length + k],
    across: [slit.from, slit.to] as const,
  }));
  const tongues = against.map((tongue, k) => ({
    finding: narrow[paper.necks.length + paper.slits.length + k],
    across: [tongue.root, tongue.tip] as const,
    name: names.gauze.find((gauze) => gauze.tongue === tongue)?.name,
  }));
  const islands = paper.groundCut ? [] : islandFindings(paper.islands, options);
  return [
    ...islands.flatMap((finding, k) => place(finding, `W${paper.islands[k].id}`, null, paper.islands[k].outline)),
    ...necks.flatMap(({ finding, across, name }) => place(finding, name ?? next(), across)),
    ...slits.flatMap(({ finding, across }) => place(finding, next(), across)),
    ...tongues.flatMap(({ finding, across, name }) => place(finding, name ?? next(), across)),
    ...workFindings(paper, options).flatMap((finding) => {
      if (finding.code === 'cut-away-band') return place(finding, next());
      if (finding.code !== 'opening-long') return place(finding, next());
      const long = names.gauze.find(({ opening }) => String(opening?.opening) === String(finding.measure?.opening));
      return place(finding, long?.name ?? next());
    }),
  ];
}

/** Findings on a sheet that are not about its paper alone: dots in openings, ties without banks, and what a proof found. */
function otherPlaces(sheet: JudgedSheet, findings: readonly Finding[], next: () => string): SheetPlace[] {
  return findings.flatMap((finding): SheetPlace[] => {
    const { code, topic, severity, atMm, measure } = finding;
    const message = inVoice(finding, 'window');
    if (atMm === null || !isOf(finding, sheet)) return [];
    const { dot, tie } = measure ?? {};
    if (topic !== 'margin' && topic !== 'proof' && tie === undefined) return [];
    const own = dot ?? tie;
    const name = own === undefined ? next() : String(own);
    return [{ name, code, topic, severity, message, at: atMm, across: null, outline: null }];
  });
}

/** Names places one after the other, after those that the cut guide names. */
function nextName(sheet: JudgedSheet): () => string {
  const { weak, gauze } = paperNames(sheet);
  const islands = sheet.paper.islands.map(({ id }) => Number(id));
  const named = [...weak, ...gauze].map(({ name }) => Number(name.slice(1)));
  let last = [...islands, ...named].reduce((most, n) => Math.max(most, n), 0);
  return () => `W${++last}`;
}
