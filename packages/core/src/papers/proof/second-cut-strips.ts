import { dotSpace, drawnSpace, wordSpace } from '../../draw/drawn-space.js';
import { GuidePages } from '../../draw/layout.js';
import { roundDrawing } from '../../draw/round.js';
import type { Drawing, FontMetrics, Item, Page } from '../../draw/types.js';
import { writableText } from '../../draw/writable-text.js';
import { distance } from '../../geometry/points.js';
import { layPages } from '../../pages/lay-pages.js';
import { pageName } from '../../pages/page-name.js';
import type { PagePlan } from '../../pages/types.js';
import type { Sheet } from '../../stencil/types.js';
import { formatMm } from '../../units/format.js';
import type { Paper } from '../../units/paper-sizes.js';
import type { LegendEntry } from '../cartoon/page-legend.js';
import { type PageWords, pageStrip, printPage } from '../cartoon/print-page.js';
import { type CutStrip, type CutStripOptions, cutStrips } from '../sheet/cut-strip.js';
import { sideDots } from '../sheet/join-places.js';
import { movementWords } from '../sheet/movement-words.js';
import { sheetName } from '../sheet/paper-words.js';
import { drySecondCut } from './dry-second-cut.js';
import { KNIFE_CAUTION, measuredWords, measuringSteps, secondCutSteps } from './second-cut-words.js';
import { stripMap } from './strip-map.js';
import { type StripPicture, stripPicture } from './strip-picture.js';

/** What the strips take of a job. */
export interface StripsJob {
  readonly title: string;
  readonly date: string;
  readonly revision: string;
  readonly pages: {
    readonly marginMm: number;
    readonly overlapMm: number;
    readonly scaleAcross: number;
    readonly scaleAlong: number;
  };
}

export interface SecondCutStripsOptions extends CutStripOptions {
  readonly job: StripsJob;
  readonly font: FontMetrics;
  /** The printer's. */
  readonly paper: Paper;
}

/** The pages of the strips, and how each strip was laid. */
export interface SecondCutStrips {
  readonly drawing: Drawing;
  readonly strips: readonly {
    readonly strip: CutStrip;
    readonly plan: PagePlan;
    readonly missing: readonly number[];
  }[];
}

/**
 * True-scale strips to lay under the held margin of a sheet, dot on dot: on the near side of the seam the second cut as the sheet has it, on the far side the real lead edges of the
 * next placements. Split over pages of the printer's paper, with test bars, trim lines and marks for joining, after a page that says how to use them. A sheet of paper that moves gets
 * them as the dry sheet needs them. Without anything held the drawing has the first page alone. Throws an `InputError` where the paper leaves no room.
 */
export function secondCutStrips(printed: Sheet, options: SecondCutStripsOptions): SecondCutStrips {
  const { job, font, paper } = options;
  const { sheet, ...known } = drySecondCut(printed, options);
  const title = writableText(job.title, font).text;
  const revision = writableText(job.revision, font).text;
  const named = sheet.count > 1 ? `${title} · ${sheetName(sheet)}` : title;
  const words: Omit<PageWords, 'title' | 'statement'> = {
    dated: revision === '' ? job.date : `revision ${revision} · ${job.date}`,
    legend: legendOf(options.offsets.length > 0),
    longestNote: '',
    mirrored: false,
    movement: movementWords(sheet) ?? '',
  };
  const shortMm = Math.min(paper.widthMm, paper.heightMm) - 2 * job.pages.marginMm;
  const groups: Record<string, readonly Item[]> = {};
  let before = 0;
  const laid = cutStrips(sheet, known).map((strip) => {
    const size = { widthMm: strip.box.x1 - strip.box.x0, heightMm: strip.box.y1 - strip.box.y0 };
    const picture = stripPicture(strip, { window: strip.box, scale: 1, at: { x: 0, y: 0 } }, font);
    const own: PageWords = {
      ...words,
      title: `${stripName(strip)} · ${named}`,
      statement: stripStatement(sheet, strip),
    };
    const plan = renamed(
      layPages(size, { ...job.pages, paper, orientation: 'auto', strip: pageStrip(own, shortMm, font) }),
      before,
    );
    before += plan.pages.length;
    groups[`strip-${strip.seam}`] = [...picture.items, ...picture.labels];
    return { strip, plan, picture, words: own };
  });
  const count = laid.reduce((sum, { plan }) => sum + plan.pages.length, 0);
  let ordinal = 0;
  const pages = laid.flatMap(({ strip, plan, picture, words: own }) => {
    const group = `strip-${strip.seam}`;
    const space = spaceOf(picture, font);
    return plan.pages.map((page): Page => {
      ordinal++;
      return {
        name: page.name,
        widthMm: plan.paper.widthMm,
        heightMm: plan.paper.heightMm,
        items: printPage(plan, page, { words: own, ordinal, count, blank: false, note: '', space, group, font }),
      };
    });
  });
  const first = firstPages(sheet, { ...options, ...known, named, dated: words.dated, laid });
  const drawing = {
    title: `${named} – strips for the second cut`,
    date: job.date,
    groups,
    pages: [...first, ...pages],
  };
  return {
    drawing: roundDrawing(drawing),
    strips: laid.map(({ strip, plan, picture }) => ({ strip, plan, missing: picture.missing })),
  };
}

function legendOf(proved: boolean): LegendEntry[] {
  return [
    proved
      ? { meaning: 'second-cut', text: '(7) second cut: cut it now, grey comes out', tinted: true }
      : { meaning: 'second-cut', text: '(7) second cut as planned: not yet' },
    { meaning: 'lead-edge', text: 'next placement, hatched: not a cut' },
    { meaning: 'seam', text: 'seam: not a cut' },
    { meaning: 'hold-line', text: 'hold line' },
    { meaning: 'dot', text: 'dot: pin here' },
  ];
}

function stripName({ seam, proved }: CutStrip): string {
  const name = seam === 'right' ? 'Strip of the right side' : 'Strip of the bottom';
  return proved ? name : `${name}, as planned`;
}

function stripStatement(sheet: Sheet, strip: CutStrip): string {
  const dots = sideDots(sheet, strip.seam).map(({ name }) => name);
  const { joins, ends } = strip;
  const names = [
    ...(joins.length > 0 ? ['Spots J: joins at the seam'] : []),
    ...(ends.length > 0 ? ['rings J: joins at a stop'] : []),
  ];
  return [`Lies under the sheet with dots ${dots.join(', ')} on the dots of the same letters.`, `${names.join(', ')}.`]
    .filter((text) => text !== '.')
    .join(' ');
}

/** Pages counted on from those of the strips before. */
function renamed(plan: PagePlan, before: number): PagePlan {
  return { ...plan, pages: plan.pages.map((page, k) => ({ ...page, name: pageName(before + k) })) };
}

function spaceOf({ items, labels }: StripPicture, font: FontMetrics) {
  const all = [...items, ...labels];
  const dots = { kind: 'layer', id: 'dots', label: '', items: labels } as const;
  return { all: drawnSpace(all, font), dots: dotSpace([dots], font), words: wordSpace(labels, font) };
}

interface FirstPageOptions extends SecondCutStripsOptions {
  readonly named: string;
  readonly dated: string;
  readonly laid: readonly { readonly strip: CutStrip; readonly plan: PagePlan; readonly picture: StripPicture }[];
}

/** How to print, join and lay the strips, and how far each edge moved. */
function firstPages(sheet: Sheet, options: FirstPageOptions): Page[] {
  const { font, paper, named, dated, laid } = options;
  const [widthMm, heightMm] = [paper.widthMm, paper.heightMm].sort((a, b) => a - b);
  const pages = new GuidePages({ widthMm, heightMm }, font);
  pages.title(named);
  pages.paragraph({ text: `Strips for the second cut · ${sheetName(sheet)} · ${dated}`, bold: true });
  if (laid.length === 0) {
    pages.paragraph({ text: 'Nothing is held on this sheet: there is no second cut.' });
    return pages.finish(named, ['strips for the second cut']);
  }
  pages.space(1);
  stripMap(pages, sheet, laid);
  const proved = options.offsets.length > 0;
  if (!proved)
    pages.notice('As planned, to measure a proof by. Cut nothing by these strips before the printed proof is in hand.');
  pages.heading('Print, join, lay under');
  pages.list(
    [
      'Print at 100 % (“actual size”), one side. Measure both bars of a page with a steel ruler before anything is cut off.',
      ...laid.map(({ strip, plan }) => joinWords(sheet, strip, plan)),
      ...(proved ? secondCutSteps(sheet) : measuringSteps()),
    ],
    { numbered: true },
  );
  const missing = laid.flatMap(({ picture }) => picture.missing);
  if (missing.length > 0)
    pages.paragraph({ text: 'Numbers of small openings that have no room on the strips are in the cut guide.' });
  pages.space(1);
  pages.paragraph({ text: proofWords(options) });
  pages.paragraph({ text: KNIFE_CAUTION });
  return pages.finish(named, ['strips for the second cut']).map((page) => ({ ...page, name: `strips-${page.name}` }));
}

/** What the hatched edges are. */
function proofWords({ ends, offsets, printed }: FirstPageOptions): string {
  if (offsets.length === 0)
    return 'Nothing was measured on a proof yet: the hatched edges and the second cut are those of the plan.';
  const drawn =
    printed === undefined
      ? 'Hatched: the planned edges, moved to where they were measured at the seam.'
      : 'Hatched: the edges as traced from the proof.';
  return `${measuredWords(ends, offsets)} ${drawn}`;
}

function joinWords(sheet: Sheet, { seam }: CutStrip, { pages }: PagePlan): string {
  const dots = sideDots(sheet, seam);
  const [a, b] = [dots[0], dots[dots.length - 1]];
  const check =
    a === undefined || a === b ? '' : ` Check: dot ${a.name} to dot ${b.name} ${formatMm(distance(b.at, a.at), 1)}.`;
  const side = seam === 'right' ? 'Right side' : 'Bottom';
  if (pages.length === 1) return `${side}: page ${pages[0].name}.${check}`;
  const names = `${pages[0].name} to ${pages[pages.length - 1].name}`;
  return `${side}: join ${names} in their order. Cut each along its long-dashed trim line, lay the cut edge on the short dashes of the page before; lozenges become whole, and the seam line runs on straight. Tape.${check}`;
}
