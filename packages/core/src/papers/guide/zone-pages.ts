import { BODY_MM, type GuidePages, HEADING_MM, LINE_MM } from '../../draw/layout.js';
import { barLength, SHORT_BAR_MM, scaleBar } from '../../draw/scale-bar.js';
import { wrapText } from '../../draw/text.js';
import type { Item } from '../../draw/types.js';
import { uprightNumber } from '../../draw/upright-numbers.js';
import { boxesOverlap } from '../../geometry/boxes.js';
import { contoursBox, translateContour } from '../../geometry/contour.js';
import { evaluateCubic } from '../../geometry/curve.js';
import type { Contour, Point } from '../../geometry/types.js';
import type { JudgedSheet, SheetOpening, Zone } from '../../stencil/types.js';
import { fallsWithin, type PaperNames, weakBeside } from '../sheet/paper-names.js';
import { zonePaperWords } from '../sheet/paper-words.js';
import { scaleWords, viewFrame } from '../sheet/view.js';
import type { ChangeMarks } from '../sheet/zone-picture.js';
import { isDone, type ZoneShare } from '../sheet/zone-picture.js';
import { type Entry, runRows, runsHeight, type ToolRun, toolRuns } from './tick-list.js';
import { type Room, type ZonePart, zoneParts } from './zone-parts.js';

/** Heading of one line, mm; on narrow paper it may take two. */
const HEAD_LINE_MM = 13;
const HEAD_WRAPS_BELOW_MM = 165;
/** Scale and legend under a picture, mm. */
const CAPTION_MM = 3 * LINE_MM + 4;
/** Heading of a list under the picture, mm. */
const LIST_HEAD_MM = LINE_MM + 2.5;
/** A picture lower than this is not worth keeping the list on its page, mm. */
const LEAST_PICTURE_MM = 90;
/** Above what is said of the paper, mm. */
const WORDS_BEFORE_MM = 1.2;
/** Beside a bar, for its length in words, mm. */
const BAR_WORDS_MM = 16;

/** What changed since an older revision, and what the paper has to show. */
export interface ZoneWork {
  readonly changes: ChangeMarks;
  readonly names: PaperNames;
}

/** The pages of a zone, and the first of them. */
export interface ZonePlace {
  readonly letter: string;
  readonly page: number;
}

/** The pages of every zone in which anything is cut: pictures, and the list to tick off. Returns where each begins. */
export function zonePages(pages: GuidePages, sheet: JudgedSheet, work: ZoneWork): ZonePlace[] {
  return sheet.zones
    .filter((z) => z.firstCut.length + z.secondCut.length > 0)
    .map((zone) => {
      pages.newPage();
      const page = pages.current;
      onePage(pages, sheet, zone, work);
      return { letter: zone.letter, page };
    });
}

function onePage(pages: GuidePages, sheet: JudgedSheet, zone: Zone, work: ZoneWork): void {
  const { changes, names } = work;
  const share = { zone, firstCut: new Set(zone.firstCut), secondCut: new Set(zone.secondCut) };
  const room = { widthMm: pages.width, heightMm: pages.height - headMm(pages) - CAPTION_MM };
  const options = { font: pages.font, changes, names };
  const parts = onePicture(pages, sheet, zone, { share, room, work }) ?? zoneParts(sheet, share, { room, ...options });
  parts.forEach((part, k) => {
    if (k > 0) pages.need(headMm(pages) + CAPTION_MM + part.view.scale * (part.view.window.y1 - part.view.window.y0));
    picture(pages, zone, part, { k, of: parts.length });
  });
  const lists = zoneLists(sheet, zone, { changes, names, parts });
  const rangesMm = parts.length > 1 ? 3 * LINE_MM : 0;
  const words = zonePaperWords(zone.letter, names);
  if (pages.room < listsHeight(pages, lists) + wordsHeight(pages, words) + rangesMm) {
    pages.newPage();
    pages.heading(`Zone ${zone.letter}: what to cut, in this order`);
  }
  if (parts.length > 1) pages.paragraph({ text: whichPicture(parts) });
  if (words !== null) {
    pages.space(WORDS_BEFORE_MM);
    pages.paragraph({ text: words, bold: true });
  }
  for (const list of lists) {
    if (list.runs.length === 0) continue;
    pages.need(LIST_HEAD_MM + LINE_MM + 2);
    pages.space(1.2);
    pages.paragraph({ text: list.heading, bold: true });
    pages.space(0.8);
    runRows(pages, list.runs);
  }
}

/** The zone's one picture, no larger than leaves room for its lists below; null where there is no such picture. */
function onePicture(
  pages: GuidePages,
  sheet: JudgedSheet,
  zone: Zone,
  { share, room, work }: { share: ZoneShare; room: Room; work: ZoneWork },
): ZonePart[] | null {
  const { changes, names } = work;
  const wordsMm = wordsHeight(pages, zonePaperWords(zone.letter, names));
  let parts: ZonePart[] = [];
  // Remarks depend on the picture, and the picture on the room that the remarks leave.
  for (let tries = 0; tries < 3; tries++) {
    const below = wordsMm + listsHeight(pages, zoneLists(sheet, zone, { changes, names, parts }));
    const heightMm = room.heightMm - below;
    const last = parts[0]?.view;
    if (last && (last.window.y1 - last.window.y0) * last.scale <= heightMm + 0.01) return parts;
    if (heightMm < LEAST_PICTURE_MM) return null;
    parts = zoneParts(sheet, share, { room: { ...room, heightMm }, font: pages.font, changes, names });
    if (parts.length !== 1) return null;
  }
  return parts;
}

/** `Picture 1 shows 1–19, 59 and 80; picture 2 shows 20–24.` */
function whichPicture(parts: readonly ZonePart[]): string {
  const shows = parts.map(({ share }, k) => {
    const numbers = [...new Set([...share.firstCut, ...share.secondCut])].sort((a, b) => a - b);
    return `picture ${k + 1} shows ${rangeWords(numbers)}`;
  });
  const words = `${shows.join('; ')}.`;
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Rising numbers with runs of three and more drawn together: `1–19, 59, 80`. */
export function rangeWords(numbers: readonly number[]): string {
  const words: string[] = [];
  for (let k = 0; k < numbers.length; ) {
    let end = k;
    while (end + 1 < numbers.length && numbers[end + 1] === numbers[end] + 1) end++;
    if (end - k >= 2) words.push(`${numbers[k]}–${numbers[end]}`);
    else for (let n = k; n <= end; n++) words.push(`${numbers[n]}`);
    k = end + 1;
  }
  return words.join(', ');
}

function headMm(pages: GuidePages): number {
  return pages.width < HEAD_WRAPS_BELOW_MM ? HEAD_LINE_MM + 1.25 * HEADING_MM : HEAD_LINE_MM;
}

interface ZoneList {
  readonly heading: string;
  readonly runs: readonly ToolRun[];
}

/** Height of what is said of a zone's ties and weak places, mm. */
function wordsHeight(pages: GuidePages, words: string | null): number {
  if (words === null) return 0;
  return WORDS_BEFORE_MM + LINE_MM * wrapText(words, pages.width, { sizeMm: BODY_MM, bold: true }, pages.font).length;
}

function listsHeight(pages: GuidePages, lists: readonly ZoneList[]): number {
  return lists
    .filter((l) => l.runs.length > 0)
    .reduce((sum, l) => sum + LIST_HEAD_MM + 0.5 + runsHeight(pages, l.runs), 2);
}

function zoneLists(
  sheet: JudgedSheet,
  zone: Zone,
  { changes, names, parts }: ZoneWork & { parts: readonly ZonePart[] },
): ZoneList[] {
  const openings = new Map(sheet.openings.map((o) => [o.number, o]));
  const stops = new Set(sheet.stops.map((s) => s.number));
  const weak = weakBeside(names);
  const own = (numbers: readonly number[]) =>
    numbers.map((n) => openings.get(n)).filter((o): o is SheetOpening => o !== undefined);
  const entry = (o: SheetOpening, contours: readonly Contour[], remarks: string[], done: boolean): Entry => {
    const reaches = zonesOf(sheet, contours).filter((letter) => letter !== zone.letter);
    const past = parts.some((p) => p.picture.cutOff.includes(o.number));
    const all = [
      ...remarks,
      ...(reaches.length > 0 ? [`reaches into ${reaches.join(', ')}`] : []),
      ...(past ? ['goes on past the picture'] : []),
    ];
    return { number: uprightNumber(o.number, sheet.openings), done, remark: all.join('; ') };
  };
  const [falls, fallsLater] = (['first', 'second'] as const).map((cut) => fallsWithin(sheet, names, cut));
  const first = own(zone.firstCut).map((o) => {
    const change = changes.get(o.number);
    const remarks = [...(change ? [change.remark] : []), ...(stops.has(o.number) ? ['stops at the bar'] : [])];
    const fall = falls.get(o.number);
    remarks.push(...(fall === undefined ? [] : [fall]), ...(weak.get(o.number) ?? []));
    return { opening: o, entry: entry(o, o.firstCut, remarks, isDone(o, changes)) };
  });
  const second = own(zone.secondCut).map((o) => {
    const fall = fallsLater.get(o.number) ?? falls.get(o.number);
    const remarks = [
      ...(o.firstCut.length > 0 ? ['the rest of it'] : []),
      ...(fall === undefined ? [] : [`${fall}: ask for a tie first`]),
    ];
    return { opening: o, entry: entry(o, o.secondCut, remarks, false) };
  });
  return [
    { heading: 'First cut, in this order', runs: toolRuns(first.filter(({ opening: o }) => !falls.has(o.number))) },
    {
      heading: 'Do not cut yet: paper inside falls out. Ask the dyer for a tie first',
      runs: toolRuns(first.filter(({ opening: o }) => falls.has(o.number))),
    },
    { heading: 'Not yet: second cut, after the proof', runs: toolRuns(second) },
  ];
}

/** Letters of the zones that outlines reach into. */
export function zonesOf(sheet: JudgedSheet, contours: readonly Contour[]): string[] {
  // An outline that only touches a zone's edge does not reach into it.
  const slackMm = 0.5;
  const around = contoursBox(contours);
  if (around === null) return [];
  const zones = sheet.zones
    .filter((z) => boxesOverlap(z.box, around))
    .map((z) => ({ letter: z.letter, box: z.box, found: false }));
  if (zones.length === 1) return [zones[0].letter];
  const parts = 8;
  for (const { coords } of contours) {
    for (let k = 0; k + 7 < coords.length; k += 6) {
      for (let n = 0; n < parts; n++) {
        const p = evaluateCubic(coords, k, n / parts);
        for (const zone of zones) {
          const { x0, y0, x1, y1 } = zone.box;
          if (p.x > x0 + slackMm && p.x < x1 - slackMm && p.y > y0 + slackMm && p.y < y1 - slackMm) zone.found = true;
        }
      }
    }
  }
  return zones.filter((z) => z.found).map((z) => z.letter);
}

function picture(pages: GuidePages, zone: Zone, part: ZonePart, { k, of }: { k: number; of: number }): void {
  const { view, picture } = part;
  const which = of > 1 ? `, ${k + 1} of ${of}` : '';
  const after = part.share.firstCut.size === 0 ? ', not yet' : '';
  pages.heading(`Zone ${zone.letter}${which}: ${scaleWords(view.scale)}${after}`);
  const frame = viewFrame(view);
  const width = frame.x1 - frame.x0;
  const at = { x: pages.left + (pages.width - width) / 2, y: pages.y };
  pages.add(...moved(picture.items, at));
  pages.y += frame.y1 - frame.y0 + 1;
  const roomMm = pages.width - BAR_WORDS_MM;
  const bar = barLength(roomMm, view.scale) * view.scale;
  // A long bar has a line of its own below the words.
  const beside = bar <= SHORT_BAR_MM;
  const barY = pages.y + 0.5 * LINE_MM + 0.5;
  if (beside) pages.add(...scaleBar({ right: pages.right, y: barY, roomMm }, view.scale, pages.font));
  const wordsMm = beside ? pages.width - bar - BAR_WORDS_MM - 3 : pages.width;
  for (const text of wrapText(captionWords(part), wordsMm, { sizeMm: BODY_MM }, pages.font)) {
    pages.y += LINE_MM;
    pages.add(pages.line(text, pages.left, pages.y - 0.28 * LINE_MM, { sizeMm: BODY_MM }));
  }
  if (!beside) {
    pages.y += LINE_MM;
    pages.add(...scaleBar({ right: pages.right, y: pages.y - 1.5, roomMm }, view.scale, pages.font));
  }
  pages.y += 1;
}

function captionWords({ view, picture, share }: ZonePart): string {
  const sentences = [
    view.scale === 1 ? 'True size.' : `Drawn at ${scaleWords(view.scale)}.`,
    ...(share.firstCut.size > 0 ? ['Grey comes out.'] : []),
    ...(share.secondCut.size > 0 ? ['Dotted, number in brackets: not yet, after the proof.'] : []),
    'Faint outlines are another list’s.',
    ...(picture.missingNames.length > 0 ? [`No room for the names ${picture.missingNames.join(', ')}.`] : []),
    ...(picture.missing.length > 0 ? [`No room for ${picture.missing.join(', ')}: see the print sheets.`] : []),
  ];
  return sentences.join(' ');
}

/** Items moved on the page. */
export function moved(items: readonly Item[], by: Point): Item[] {
  return items.map((item) => movedItem(item, by));
}

function movedItem(item: Item, by: Point): Item {
  switch (item.kind) {
    case 'text':
      return { ...item, x: item.x + by.x, y: item.y + by.y };
    case 'path':
      return { ...item, contours: item.contours.map((c) => translateContour(c, by)) };
    case 'clip':
      return { ...item, contours: item.contours.map((c) => translateContour(c, by)), items: moved(item.items, by) };
    case 'layer':
      return { ...item, items: moved(item.items, by) };
    case 'place':
      return { ...item, at: item.at.map(([a, b, c, d, e, f]) => [a, b, c, d, e + by.x, f + by.y]) };
  }
}
