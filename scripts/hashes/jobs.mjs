import { readFileSync } from 'node:fs';
import { drawingsOf, SETS } from '../corpus/sets.mjs';
import { placed, REPEATS, randomFrom, settingsFor } from '../corpus/settings.mjs';

/** Sets that icons are taken from: lines, areas, patterns over the edges. */
const ICON_SETS = ['@iconify-json/tabler', '@iconify-json/game-icons', 'hero-patterns'];
const ICONS_OF_A_SET = 20;
const SEED = 7;
const MOTIFS = ['brick-checks', 'colours', 'straight-off-by-1mm', 'straight', 'stroke-vine'];

const read = (path) => readFileSync(new URL(`../../fixtures/${path}`, import.meta.url), 'utf8');

/** What is recorded: named jobs, each as the text of its drawing and its job file. `whole` jobs go through every command, icons through those that work out most. */
export function jobs() {
  const demo = JSON.parse(read('demo/demo.okuri.json'));
  const date = '2026-01-01';
  return [
    { name: 'demo', svg: read('demo/motif.svg'), job: demo, whole: true },
    { name: 'demo-other', svg: read('demo/motif.svg'), job: { ...demo, ...otherChoices() }, whole: false },
    ...MOTIFS.flatMap((motif) =>
      Object.entries(REPEATS).map(([repeat, says]) => ({
        name: `${motif} ${repeat}`,
        svg: read(`motifs/${motif}.svg`),
        job: { okuri: 1, motif: 'motif.svg', date, ...says },
        whole: repeat === 'straight' || repeat === 'brick',
      })),
    ),
    ...ICON_SETS.flatMap((name) => icons(SETS.find((set) => set.package === name))),
  ];
}

/** The demo with what it does not choose by itself: drawn as cloth, gauze, finished lengths, inches, mirrored pages. */
function otherChoices() {
  return {
    spill: 'trim',
    hold: { mode: 'crossing' },
    gauze: true,
    soak: true,
    punch: 'wet',
    punches: ['2mm', '1/8in'],
    movement: { along: 0.2, across: 1.1 },
    grain: 'upright',
    hand: 'left',
    pages: { paper: 'Letter', mirror: true },
    ties: {},
  };
}

function icons(set) {
  const { names, read: drawing } = drawingsOf(set);
  const random = randomFrom(`${SEED} ${set.package}`);
  return Array.from({ length: ICONS_OF_A_SET }, () => {
    const index = Math.floor(random() * names.length);
    const settings = settingsFor(names[index], SEED);
    const job = {
      okuri: 1,
      motif: 'motif.svg',
      date: '2026-01-01',
      width: `${settings.widthMm}mm`,
      ...settings.says,
    };
    return { name: names[index], svg: placed(drawing(index), settings.place), job, whole: false };
  });
}
