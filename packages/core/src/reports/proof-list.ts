import type { ProofSheet } from '../job/proof-sheet.js';
import type { FirstCutEnd, SheetJoin } from '../proof/types.js';
import { listText } from '../units/words.js';
import { signed } from './proof-report.js';
import { roundedData } from './rounded-data.js';
import { textTable } from './text-table.js';

/** Where a sheet's proof is measured and how the proof is printed, for a person without a scan; and what the job keeps already. */
export function proofListReport(proof: ProofSheet): string {
  const { title, sheet, ends, map, kept } = proof;
  const name = sheet.count > 1 ? `${title}, stencil ${sheet.index} of ${sheet.count}` : title;
  const lines = [`${name}: print it ${map.placements.length} times to see every join`];
  for (const { order, at } of map.placements) {
    lines.push(
      `  ${order}. ${at.x === 0 && at.y === 0 ? 'first' : `${at.x.toFixed(1)} mm to the right, ${at.y.toFixed(1)} mm down`}`,
    );
  }
  for (const { from, to, dots, words } of map.joins) {
    const pairs = listText(dots.map((pair) => `${pair.from} on ${pair.to}`));
    lines.push(`  ${from} on ${to}: ${words}${pairs === '' ? '' : ` (dot ${pairs})`}`);
  }
  for (const { placement, dots } of map.pencil) {
    lines.push(
      `  before the sheet is lifted from ${placement}: pencil through ${listText(dots)}, for sighting only: ${dots.length === 1 ? 'it does' : 'they do'} not print`,
    );
  }
  if (map.further !== null) lines.push('  one placement more shows the other point at which three meet');
  const offsets = new Map(kept.map((one) => [one.name, one]));
  const said = (end: SheetJoin | FirstCutEnd): string => {
    const own = offsets.get(end.name);
    if (own !== undefined) return signed(own.offsetMm);
    return 'leadCut' in end && end.leadCut === 'second' ? 'as planned' : '';
  };
  const { x0, y0 } = sheet.field;
  const place = ({ at }: SheetJoin | FirstCutEnd): string[] => [(at.x - x0).toFixed(1), (at.y - y0).toFixed(1)];
  if (ends.joins.length > 0) {
    lines.push(
      '',
      'joins, mm from the left and the top of the field; offsets are along the seam, above zero down or to the right',
      ...textTable(
        ['', 'seam', 'left', 'top', 'edge', 'opening', 'meets', 'offset'],
        ends.joins.map((join) => [
          join.name,
          join.seam,
          ...place(join),
          join.edge,
          String(join.own),
          join.partner === null ? '-' : String(join.partner),
          said(join),
        ]),
        [2, 3, 5, 6, 7],
      ),
    );
  }
  if (ends.firstCutEnds.length > 0) {
    lines.push(
      '',
      'stops, where the second cut joins the first; offsets are along the stop',
      ...textTable(
        ['', 'left', 'top', 'opening', 'offset'],
        ends.firstCutEnds.map((end) => [end.name, ...place(end), String(end.opening), said(end)]),
        [1, 2, 3, 4],
      ),
    );
  }
  lines.push(
    '',
    'Then: okuri proof JOB SCAN measures all of them; okuri proof JOB --offset J1=0.4mm types one. -o DIR writes the map, a form and the strips.',
  );
  return `${lines.join('\n')}\n`;
}

/** The document of `proof --json` without a scan. Lengths in mm, places from the upper left of the field. */
export function proofListDocument({ title, sheet, key, ends, map, kept }: ProofSheet) {
  const { x0, y0 } = sheet.field;
  const offsets = new Map(kept.map((one) => [one.name, one]));
  const place = ({ at }: SheetJoin | FirstCutEnd) => ({ x: at.x - x0, y: at.y - y0 });
  const known = (name: string) => ({
    offsetMm: offsets.get(name)?.offsetMm ?? null,
    turnDeg: offsets.get(name)?.turnDeg ?? null,
  });
  return roundedData({
    title,
    stencil: sheet.index,
    key,
    joins: ends.joins.map((join) => ({
      name: join.name,
      seam: join.seam,
      atMm: place(join),
      stepMm: join.step,
      edge: join.edge,
      opening: join.own,
      meets: join.partner,
      measurable: join.partner !== null && join.leadCut !== 'second',
      ...known(join.name),
    })),
    firstCutEnds: ends.firstCutEnds.map((end) => ({
      name: end.name,
      atMm: place(end),
      along: end.along,
      opening: end.opening,
      ...known(end.name),
    })),
    map: {
      placements: map.placements.map(({ order, i, j, at }) => ({ order, i, j, atMm: at })),
      joins: map.joins.map(({ from, to, dots, words }) => ({
        from,
        to,
        dots: dots.map((pair) => ({ ...pair })),
        words,
      })),
      pencil: map.pencil.map(({ placement, dots }) => ({ placement, dots: [...dots] })),
    },
  });
}

/** The shape of the document. */
export type ProofListDocument = ReturnType<typeof proofListDocument>;
