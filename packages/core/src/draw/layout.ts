import { boxContour, polyline } from '../geometry/contour.js';
import { COLOURS, GREY, RULE_GREY } from './palette.js';
import { evenMost, fitText, textWidthMm, wrapText } from './text.js';
import type { Colour, FontMetrics, Item, Page, TextItem } from './types.js';

/** Type sizes of the guide, mm em: body 9 pt and more. */
export const BODY_MM = 3.3;
export const HEADING_MM = 5;
export const TITLE_MM = 7.5;
const FOOTER_MM = 3.2;
const FOOTER_POINT = ' · ';
/** Between a footer's words and the number of the page, mm. */
const FOOTER_GAP_MM = 6;
/** Distance of baselines of body text, mm. */
export const LINE_MM = 4.5;
/** The page's margins, mm: the left one wide enough to punch. */
const LEFT_MM = 20;
const RIGHT_MM = 14;
const TOP_MM = 15;
const BOTTOM_MM = 18;

export interface PaperSize {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** A column of a table. `share` of the width; the text of a cell wraps in it. */
export interface Column {
  readonly head: string;
  readonly share: number;
}

/** Text on a line of its own, before it is given a place. */
export interface Words {
  readonly text: string;
  readonly bold?: boolean;
  readonly colour?: Colour;
}

/**
 * Pages that are filled from the top down in one text column. What does not fit goes to a new page. All in mm.
 */
export class GuidePages {
  readonly left = LEFT_MM;
  readonly right: number;
  readonly bottom: number;
  /** Where the next thing goes. */
  y = TOP_MM;
  private readonly pages: Item[][] = [[]];

  constructor(
    readonly paper: PaperSize,
    readonly font: FontMetrics,
  ) {
    this.right = paper.widthMm - RIGHT_MM;
    this.bottom = paper.heightMm - BOTTOM_MM;
  }

  get width(): number {
    return this.right - this.left;
  }

  /** Room left on the page, mm. */
  get room(): number {
    return this.bottom - this.y;
  }

  /** Number of the page that is being filled, from 1. */
  get current(): number {
    return this.pages.length;
  }

  /** Height of a page from its first line to its last, mm. */
  get height(): number {
    return this.bottom - TOP_MM;
  }

  /** Adds to a page that was filled before: what could not be known then. */
  addTo(page: number, ...items: readonly Item[]): void {
    this.pages[page - 1].push(...items);
  }

  /** Begins a new page, unless this one is still empty. */
  newPage(): void {
    if (this.y === TOP_MM) return;
    this.pages.push([]);
    this.y = TOP_MM;
  }

  /** Goes to a new page where less than `heightMm` is left. */
  need(heightMm: number): void {
    if (this.room < heightMm) this.newPage();
  }

  add(...items: readonly Item[]): void {
    this.addTo(this.current, ...items);
  }

  space(mm: number): void {
    if (this.y > TOP_MM) this.y += mm;
  }

  /** The guide's title. */
  title(text: string): void {
    const style = { sizeMm: TITLE_MM, bold: true };
    for (const line of wrapText(text, this.width, style, this.font)) {
      this.y += TITLE_MM * 1.2;
      this.add(this.line(line, this.left, this.y - TITLE_MM * 0.25, { sizeMm: TITLE_MM, bold: true }));
    }
    this.space(1);
  }

  /** A heading with a rule above it; kept together with at least `withMm` of what follows. */
  heading(text: string, withMm = 3 * LINE_MM): void {
    const lines = wrapText(text, this.width, { sizeMm: HEADING_MM, bold: true }, this.font);
    this.need(lines.length * HEADING_MM * 1.3 + 5 + withMm);
    this.space(3.5);
    this.rule(this.y, { widthMm: 0.3, colour: COLOURS.black });
    this.y += 1.2;
    for (const line of lines) {
      this.y += HEADING_MM * 1.25;
      this.add(this.line(line, this.left, this.y - HEADING_MM * 0.2, { sizeMm: HEADING_MM, bold: true }));
    }
    this.y += 1.4;
  }

  /** A paragraph over the whole width, or indented, or `lessMm` short of the right edge. */
  paragraph(words: Words, { indentMm = 0, lessMm = 0 } = {}): void {
    const { text, bold = false, colour = COLOURS.black } = words;
    for (const line of wrapText(text, this.width - indentMm - lessMm, { sizeMm: BODY_MM, bold }, this.font)) {
      this.need(LINE_MM);
      this.y += LINE_MM;
      this.add(this.line(line, this.left + indentMm, this.y - LINE_MM * 0.28, { sizeMm: BODY_MM, bold, colour }));
    }
  }

  /** Paragraphs with a mark before each: a bullet, or a number. */
  list(texts: readonly string[], { numbered = false } = {}): void {
    const indent = numbered ? 6 : 4;
    texts.forEach((text, k) => {
      const lines = wrapText(text, this.width - indent, { sizeMm: BODY_MM }, this.font);
      this.need(Math.min(lines.length, 3) * LINE_MM);
      const y = this.y + LINE_MM * 0.72;
      this.add(this.line(numbered ? `${k + 1}.` : '•', this.left, y, { sizeMm: BODY_MM }));
      this.paragraph({ text }, { indentMm: indent });
      this.y += 0.5;
    });
  }

  /** Label and value side by side, in one line each where they fit. */
  facts(rows: readonly (readonly [label: string, value: string])[], { labelMm = 38, lessMm = 0 } = {}): void {
    for (const [label, value] of rows) {
      const lines = wrapText(value, this.width - labelMm - lessMm, { sizeMm: BODY_MM }, this.font);
      this.need(LINE_MM * Math.max(1, lines.length));
      this.add(this.line(label, this.left, this.y + LINE_MM * 0.72, { sizeMm: BODY_MM, bold: true }));
      this.paragraph({ text: value }, { indentMm: labelMm, lessMm });
      if (lines.length === 0) this.y += LINE_MM;
      this.y += 0.4;
    }
  }

  /** A framed paragraph that must not be missed, kept on one page. */
  notice(text: string): void {
    const pad = 2.5;
    const lines = wrapText(text, this.width - 2 * pad, { sizeMm: BODY_MM, bold: true }, this.font);
    const height = lines.length * LINE_MM + 2 * pad;
    this.need(height + 2);
    this.space(1);
    const box = { x0: this.left, y0: this.y, x1: this.right, y1: this.y + height };
    this.add({ kind: 'path', contours: [boxContour(box)], line: { colour: COLOURS.black, widthMm: 0.6 } });
    lines.forEach((line, k) => {
      const y = this.y + pad + (k + 0.72) * LINE_MM;
      this.add(this.line(line, this.left + pad, y, { sizeMm: BODY_MM, bold: true }));
    });
    this.y += height + 1;
  }

  /** A table with a ruled head, repeated on every page it runs over. */
  table(columns: readonly Column[], rows: readonly (readonly string[])[]): void {
    const widths = columns.map((c) => c.share * this.width);
    this.need(3 * LINE_MM);
    this.tableHead(columns, widths);
    for (const row of rows) {
      const cells = row.map((text, k) => wrapText(text, widths[k] - 2, { sizeMm: BODY_MM }, this.font));
      const height = Math.max(1, ...cells.map((lines) => lines.length)) * LINE_MM + 0.8;
      if (this.room < height) {
        this.newPage();
        this.tableHead(columns, widths);
      }
      this.cells(cells, widths, { bold: false });
      this.y += height;
      this.rule(this.y, { widthMm: 0.15, colour: RULE_GREY });
    }
  }

  private tableHead(columns: readonly Column[], widths: readonly number[]): void {
    const heads = columns.map((c, k) => wrapText(c.head, widths[k] - 2, { sizeMm: BODY_MM, bold: true }, this.font));
    this.cells(heads, widths, { bold: true });
    this.y += Math.max(1, ...heads.map((lines) => lines.length)) * LINE_MM + 0.6;
    this.rule(this.y, { widthMm: 0.3, colour: COLOURS.black });
  }

  private cells(cells: readonly (readonly string[])[], widths: readonly number[], { bold }: { bold: boolean }): void {
    let x = this.left;
    cells.forEach((lines, k) => {
      lines.forEach((text, n) => {
        this.add(this.line(text, x, this.y + (n + 0.78) * LINE_MM, { sizeMm: BODY_MM, bold }));
      });
      x += widths[k];
    });
  }

  private rule(y: number, line: { widthMm: number; colour: Colour }): void {
    const contours = [
      polyline(
        [
          { x: this.left, y },
          { x: this.right, y },
        ],
        { closed: false },
      ),
    ];
    this.add({ kind: 'path', contours, line });
  }

  /** One line of text with its baseline at `y`. */
  line(
    text: string,
    x: number,
    y: number,
    { sizeMm, bold = false, colour = COLOURS.black }: { sizeMm: number; bold?: boolean; colour?: Colour },
  ): TextItem {
    return { kind: 'text', text, x, y, sizeMm, bold, colour };
  }

  /**
   * The pages, each with a footer: the title and what else they are on the left, "page n of N" on the right. Parts that are too long for one line are shortened, the longest first: each has to stand
   * whole somewhere else.
   */
  finish(title: string, parts: readonly string[]): Page[] {
    const pages = this.pages.filter((items, k) => items.length > 0 || k === 0);
    const style = { sizeMm: FOOTER_MM, colour: GREY };
    const widest = textWidthMm(`page ${pages.length} of ${pages.length}`, style, this.font);
    const words = this.footerWords([title, ...parts], this.width - widest - FOOTER_GAP_MM);
    return pages.map((items, k) => {
      const count = `page ${k + 1} of ${pages.length}`;
      const y = this.paper.heightMm - 9;
      const rule = polyline(
        [
          { x: this.left, y: y - 4 },
          { x: this.right, y: y - 4 },
        ],
        { closed: false },
      );
      return {
        name: `${k + 1}`,
        ...this.paper,
        items: [
          ...items,
          { kind: 'path', contours: [rule], line: { colour: RULE_GREY, widthMm: 0.15 } },
          ...words.map(({ text, x }) => this.line(text, x, y, style)),
          { ...this.line(count, this.right, y, style), anchor: 'end' },
        ],
      };
    });
  }

  /** The parts of a footer with points between them: in one piece where they fit, else each by itself. */
  private footerWords(parts: readonly string[], roomMm: number): { text: string; x: number }[] {
    const wide = (text: string): number => textWidthMm(text, { sizeMm: FOOTER_MM }, this.font);
    const whole = parts.join(FOOTER_POINT);
    if (wide(whole) <= roomMm) return [{ text: whole, x: this.left }];
    const most = evenMost(parts.map(wide), roomMm - (parts.length - 1) * wide(FOOTER_POINT));
    let x = this.left;
    return parts.flatMap((part, k) => {
      const texts = [...(k > 0 ? [FOOTER_POINT] : []), fitText(part, most, { sizeMm: FOOTER_MM }, this.font)];
      return texts.map((text) => {
        const from = x;
        x += wide(text);
        return { text, x: from };
      });
    });
  }
}
