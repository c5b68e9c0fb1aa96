import { describe, expect, it } from 'vitest';
import { labelFont } from '../../draw/label-font.test-help.js';
import { GuidePages } from '../../draw/layout.js';
import type { Item, PathItem, TextItem } from '../../draw/types.js';
import { spillFindings } from '../../findings/spill.js';
import { circleContour, contoursBox } from '../../geometry/contour.js';
import type { Box } from '../../geometry/types.js';
import { makeLattice } from '../../repeat/lattice.js';
import { layRepeat } from '../../repeat/lay-repeat.js';
import { STRAIGHT, shapeOf } from '../../repeat/random-cell.test-help.js';
import { sampleSheet } from './sample-sheet.test-help.js';
import { squarePages } from './square.js';
import { workStrip } from './strip.js';

const font = labelFont();
const A4 = { widthMm: 210, heightMm: 297 };
const flat = (items: readonly Item[]): Item[] =>
  items.flatMap((item) => (item.kind === 'clip' || item.kind === 'layer' ? flat(item.items) : [item]));
const boxOf = ({ contours }: PathItem) => contoursBox(contours) as Box;

describe('the steps of the work', () => {
  it('stand side by side, each box over its words, with an arrow from each to the next', () => {
    const pages = new GuidePages(A4, font);
    const from = pages.y;
    const steps = ['cut', 'gauze', 'soak', 'print'];
    workStrip(pages, steps);
    const below = pages.y;
    const items = flat(pages.finish('Test', [])[0].items);
    const words = steps.map(
      (text) => items.find((item): item is TextItem => item.kind === 'text' && item.text === text) as TextItem,
    );
    const paths = items.filter(
      (item): item is PathItem => item.kind === 'path' && boxOf(item).y0 > from - 1 && boxOf(item).y1 < below + 1,
    );
    const boxes = paths.filter((path) => Math.abs(boxOf(path).y1 - boxOf(path).y0 - 5) < 1e-6);
    const arrows = paths.filter((path) => path.contours.length === 2);
    expect(boxes).toHaveLength(4);
    expect(arrows).toHaveLength(3);
    boxes.forEach((box, k) => {
      const { x0, x1, y1 } = boxOf(box);
      expect(words[k].x).toBeCloseTo((x0 + x1) / 2, 6);
      expect(words[k].y).toBeGreaterThan(y1);
      expect(words[k].y).toBeLessThan(below);
    });
    arrows.forEach((arrow, k) => {
      const [left, right, own] = [boxOf(boxes[k]), boxOf(boxes[k + 1]), boxOf(arrow)];
      expect(own.x0).toBeCloseTo(left.x1 + 1, 6);
      expect(own.x1).toBeCloseTo(right.x0 - 1, 6);
      expect((own.y0 + own.y1) / 2).toBeCloseTo((left.y0 + left.y1) / 2, 6);
      const [, head] = arrow.contours;
      expect(head.coords[0]).toBeLessThan(own.x1);
    });
  });
});

describe('the facts of a sheet’s dots', () => {
  it('say whose the dots are where a sheet holds several units', () => {
    const said = (across: number, down: number) => {
      const pages = new GuidePages(A4, font);
      squarePages(pages, { ...sampleSheet({ count: 20, fieldWidthMm: 300, fieldHeightMm: 400 }), across, down });
      return pages
        .finish('Test', [])
        .flatMap(({ items }) => flat(items))
        .flatMap((item) => (item.kind === 'text' ? [item.text] : []))
        .join(' ');
    };
    expect(said(1, 1)).not.toContain('belong to the sheet');
    expect(said(2, 1)).toContain('belong to the sheet');
    expect(said(1, 2)).toContain('belong to the sheet');
  });
});

describe('what is said of shapes that poke out', () => {
  it('speaks of one as one and of several as several', () => {
    const lattice = makeLattice(STRAIGHT, 100, 100);
    const said = (spill: 'carry' | 'trim', ...places: readonly (readonly [number, number])[]) => {
      const { spill: report } = layRepeat(
        places.map(([x, y]) => shapeOf([circleContour({ x, y }, 8)])),
        lattice,
        { spill, drawn: 'cut', method: 'resist', paperColour: '#ffffff', cut: null, reachMm: 3 },
      );
      return spillFindings(report).find(({ code }) => code === `spill-${spill === 'carry' ? 'carried' : 'trimmed'}`)
        ?.message;
    };
    expect(said('carry', [97, 50])).toMatch(/pokes out of the unit and is carried over/);
    expect(said('carry', [97, 50], [50, 97])).toMatch(/poke out of the unit and are carried over/);
    expect(said('trim', [97, 50])).toMatch(/pokes out of the unit and is trimmed/);
    expect(said('trim', [97, 50], [50, 97])).toMatch(/poke out of the unit and are trimmed/);
  });
});
