import { type GuidePages, LINE_MM } from '../../draw/layout.js';
import type { Sheet } from '../../stencil/types.js';
import { counted } from '../../units/words.js';
import { besideOf, type GauzePlace, type NamedIsland, type NamedNeck, type PaperNames } from '../sheet/paper-names.js';
import { placeWords } from '../sheet/paper-words.js';
import { paperPicture } from './paper-picture.js';

/**
 * What a sheet's paper needs before and while it is cut, on a page of its own: a small sheet with all places marked, the weak places, where gauze or a strip goes,
 * and the islands that would fall out. Nothing where there is none of them.
 */
export function paperPage(pages: GuidePages, sheet: Sheet, names: PaperNames): void {
  const { weak, gauze, islands, onRelease, groundCut } = names;
  if (weak.length + gauze.length + islands.length + onRelease === 0 && !groundCut) return;
  pages.newPage();
  pages.heading('The paper: weak places, gauze and strips');
  if (groundCut) {
    pages.notice(groundWords(islands.length > 0, sheet.practice.gauze));
  } else if (islands.length > 0) {
    pages.notice(islandNotice(islands.length + names.moreIslands));
  }
  if (weak.length + gauze.length + islands.length > 0) paperPicture(pages, sheet, names);
  islandTable(pages, names);
  weakTable(pages, sheet, names);
  gauzeTable(pages, sheet, names);
}

function groundWords(falls: boolean, gauze: boolean): string {
  if (gauze && !falls) {
    return 'The ground itself is cut: the gauze has to hold all of it. Until it is dry lift the sheet only on a board.';
  }
  const first = gauze ? 'ties that hold it until the gauze is on' : 'gauze';
  return `The ground itself is cut: do not cut before ${first}, two sheets, or cut and paper the other way round are decided.`;
}

function islandNotice(count: number): string {
  const what = counted(count, 'piece of paper', 'pieces of paper');
  return `${what} would fall out. Do not cut before a tie is decided for each.`;
}

function islandTable(pages: GuidePages, { islands, moreIslands, onRelease }: PaperNames): void {
  if (islands.length > 0) {
    pages.heading('Islands: do not cut around them before a tie is decided', 4 * LINE_MM);
    pages.table(
      [
        { head: 'island', share: 0.11 },
        { head: 'zone', share: 0.08 },
        { head: 'from the clipped corner', share: 0.28 },
        { head: 'in opening', share: 0.12 },
        { head: 'paper', share: 0.11 },
        { head: 'falls out', share: 0.3 },
      ],
      islands.map(({ name, zone, island }) => [
        name,
        zone,
        placeWords(island.at),
        `${island.opening}`,
        `${island.areaMm2.toFixed(0)} mm²`,
        fallsWords({ island }, islands),
      ]),
    );
    more(pages, moreIslands, 'island', 'islands');
  }
  if (onRelease > 0) {
    pages.space(1);
    const what = counted(onRelease, 'island hangs', 'islands hang');
    pages.paragraph({
      text: `${what} on release ties alone: the gauze has to hold ${onRelease === 1 ? 'it' : 'them'} before those are cut.`,
    });
  }
}

function fallsWords({ island }: Pick<NamedIsland, 'island'>, all: readonly NamedIsland[]): string {
  const when = island.dropsAt === 'first' ? 'with the first cut' : 'with the second cut';
  const outer = all.find((one) => one.island.id === island.within);
  return outer === undefined ? when : `${when}; lies within ${outer.name}, hold that first`;
}

function weakTable(pages: GuidePages, { practice }: Sheet, { weak, moreWeak }: PaperNames): void {
  if (weak.length === 0) return;
  pages.heading('Weak places, the worst first', 6 * LINE_MM);
  pages.paragraph({
    text: `Before cutting beyond a ring, glue a strip of gauze or thin paper over it, 10 mm longer on either side, and let it dry. ${
      practice.gauze ? 'It stays under the gauze.' : 'It stays on the sheet.'
    } Where it would lie over an opening, cut that opening first and the last of it through the strip. What hangs on a ring is cut last.`,
  });
  pages.space(1);
  pages.table(
    [
      { head: 'place', share: 0.08 },
      { head: 'zone', share: 0.07 },
      { head: 'from the clipped corner', share: 0.27 },
      { head: 'beside', share: 0.1 },
      { head: 'width', share: 0.1 },
      { head: 'hangs on it', share: 0.13 },
      { head: 'what to do', share: 0.25 },
    ],
    weak.map(({ name, zone, neck }) => [
      name,
      zone,
      placeWords(neck.atMm),
      besideOf(neck).join(', '),
      `${neck.widthMm.toFixed(2)} mm`,
      neck.weak ? `${neck.hangsMm2.toFixed(0)} mm²` : 'none alone',
      whatToDo({ neck }),
    ]),
  );
  more(pages, moreWeak, 'weak place', 'weak places');
}

function whatToDo({ neck }: Pick<NamedNeck, 'neck'>): string {
  if (neck.weak) return 'strip over it, then cut on';
  return `strip along it, ${Math.ceil(neck.lengthMm)} mm long`;
}

function gauzeTable(pages: GuidePages, { practice }: Sheet, { gauze, moreGauze }: PaperNames): void {
  if (gauze.length === 0) return;
  pages.heading(practice.gauze ? 'Where the gauze has most to hold' : 'Where gauze or a glued strip goes', 6 * LINE_MM);
  pages.paragraph({
    text: practice.gauze
      ? 'The gauze goes over the whole design. At these places look twice that it is stuck down flat on both sides; until it is dry lift the sheet only on a board.'
      : 'Glue a strip of gauze or thin paper over these places when all is cut, and let it dry. Until then lift the sheet only on a board.',
  });
  pages.space(1);
  pages.table(
    [
      { head: 'place', share: 0.09 },
      { head: 'zone', share: 0.08 },
      { head: 'from the clipped corner', share: 0.29 },
      { head: 'what', share: 0.54 },
    ],
    gauze.map((place) => [place.name, place.zone, placeWords(place.at), gauzeWords(place)]),
  );
  more(pages, moreGauze, 'place', 'places');
}

function gauzeWords({ tongue, opening }: GauzePlace): string {
  if (tongue !== null) {
    return `tongue, ${tongue.lengthMm.toFixed(0)} mm long, root ${tongue.rootMm.toFixed(1)} mm: over its tip and root`;
  }
  return `opening ${opening?.opening}, ${opening?.lengthMm.toFixed(0)} mm long without a tie: across its middle`;
}

function more(pages: GuidePages, count: number, one: string, many: string): void {
  if (count === 0) return;
  pages.space(0.8);
  pages.paragraph({ text: `And ${count} more ${count === 1 ? one : many}: see the check report.` });
}
