import type { JudgedSheet } from '../stencil/types.js';
import { isUsualPace, USUAL_PACE } from '../strength/cutting-work.js';
import { tonguesAgainst } from '../strength/tongues.js';
import type { DropsAt, Pace, PaperReport } from '../strength/types.js';
import { rounded } from '../units/round.js';
import { counted, shareText } from '../units/words.js';

const DROPS: Readonly<Record<DropsAt, string>> = {
  first: 'with the first cut',
  second: 'with the second cut',
  release: 'with the release cut',
};

/**
 * The paper of every sheet in a few lines: islands, weak and narrow places, how much is cut away, and what it takes to cut.
 */
export function paperLines(sheets: readonly JudgedSheet[]): string[] {
  return sheets.flatMap((sheet) => {
    const { paper } = sheet;
    const name = sheets.length > 1 ? ` of stencil ${sheet.index}${sheet.part === null ? '' : ` ${sheet.part}`}` : '';
    return [
      `paper${name}: ${islandsText(paper, sheet.practice.gauze)}; ${narrowText(paper)}; ${awayText(paper)}`,
      `cutting${name}: ${workText(paper)}`,
    ];
  });
}

function islandsText({ groundCut, islands }: PaperReport, gauze: boolean): string {
  if (groundCut) return 'the ground itself is cut';
  if (islands.length === 0) return 'no islands';
  // What the release cut sets free hangs on the gauze then, where there is one.
  const held = gauze ? islands.filter(({ dropsAt }) => dropsAt === 'release').length : 0;
  const parts = (['first', 'second', 'release'] as const).flatMap((when) => {
    const n = islands.filter(({ dropsAt }) => dropsAt === when).length;
    return n === 0 || (held > 0 && when === 'release') ? [] : [`${n} ${DROPS[when]}`];
  });
  const falls =
    parts.length > 0 ? [`${counted(islands.length - held, 'island')} would fall out: ${parts.join(', ')}`] : [];
  const hangs = held > 0 ? [`${counted(held, 'island')} on the gauze alone after the release cut`] : [];
  return [...falls, ...hangs].join('; ');
}

function narrowText({ rules, necks, slits, tongues, longOpenings }: PaperReport): string {
  const weak = necks.filter((neck) => neck.weak).length;
  const parts = [
    necks.length === 0
      ? `no paper narrower than ${rounded(rules.neckMm, 2)} mm`
      : `${counted(necks.length, 'place')} of paper narrower than ${rounded(rules.neckMm, 2)} mm, ${weak === 0 ? 'none' : weak} of them weak`,
  ];
  if (slits.length > 0) {
    parts.push(`${counted(slits.length, 'place')} of openings narrower than ${rounded(rules.slitMm, 2)} mm`);
  }
  if (longOpenings.length > 0) {
    parts.push(`${counted(longOpenings.length, 'opening')} longer than ${rounded(rules.spanMm, 2)} mm without a tie`);
  }
  const against = tonguesAgainst(tongues, rules.stroke).length;
  if (against > 0) parts.push(`${counted(against, 'long tongue')} against the stroke`);
  return parts.join(', ');
}

function awayText({ cutAway }: PaperReport): string {
  const band = Math.min(
    cutAway.weakestBand.x1 - cutAway.weakestBand.x0,
    cutAway.weakestBand.y1 - cutAway.weakestBand.y0,
  );
  return `${shareText(cutAway.share)} cut away, ${shareText(cutAway.bandShare)} in the weakest band of ${rounded(band, 2)} mm`;
}

function workText({ work, rules, pace }: PaperReport): string {
  const tight =
    work.tightPlaces === 0
      ? ''
      : `, ${counted(work.tightPlaces, 'curve')} tighter than the ${rounded(rules.turnMm, 2)} mm that a blade turns`;
  const jerks = work.jerks === 0 ? '' : `, ${counted(work.jerks, 'place')} where the outline jerks`;
  const blades = Math.ceil(work.blades - 1e-9);
  return (
    `${(work.lengthMm / 1000).toFixed(2)} m of outline, ${counted(work.corners, 'corner')}${tight}${jerks}; ` +
    `about ${timeText(work.minutes)} and ${counted(blades, 'blade')} (${paceText(pace)})`
  );
}

/** Whose pace the estimates are made from. */
function paceText(pace: Pace = USUAL_PACE): string {
  if (!isUsualPace(pace)) return 'estimates from the pace in the job';
  return `estimates at a usual pace of ${pace.mmPerMinute} mm a minute: nobody was timed`;
}

/** Minutes up to an hour and a half, then hours and minutes. */
function timeText(minutes: number): string {
  const whole = Math.max(1, Math.round(minutes));
  if (whole <= 90) return counted(whole, 'minute');
  return `${Math.floor(whole / 60)} h ${whole % 60} min`;
}
