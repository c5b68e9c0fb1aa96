import type { Plan } from '../cloth/plan-types.js';
import type { Finding, Severity } from '../motif/finding.js';
import { formatMm } from '../units/format.js';
import { counted } from '../units/words.js';

/** A strip of cloth that is cut off a column and narrower than this needs no word, mm. */
const STRIP_MM = 0.5;

/** What a person should know of a plan, worst first. */
export function planFindings(plan: Plan): Finding[] {
  return [...placeFindings(plan), ...clothFindings(plan), ...panelFindings(plan), ...sheetFindings(plan)].sort(
    (a, b) => RANK.indexOf(a.severity) - RANK.indexOf(b.severity),
  );
}

const RANK: readonly Severity[] = ['stop', 'fix', 'look', 'note'];

function placeFindings({ placements, lattice, cloth, trimmedWidthMm, leftover, fill }: Plan): Finding[] {
  const width = cloth.usable.x1 - cloth.usable.x0;
  if (placements.length === 0) {
    return [
      finding(
        'plan-empty',
        'stop',
        `Not one whole placement of ${formatMm(lattice.widthMm)} × ${formatMm(lattice.heightMm)} lies on the usable cloth: let placements be cut, or use a larger cloth.`,
        { usableWidthMm: width, usableLengthMm: cloth.usable.y1 - cloth.usable.y0 },
      ),
    ];
  }
  if (trimmedWidthMm > STRIP_MM) {
    return [
      finding(
        'plan-narrow',
        'look',
        `The usable cloth is ${formatMm(width)} wide, narrower than one placement (${formatMm(lattice.widthMm)}): ${formatMm(trimmedWidthMm)} of the pattern's width is trimmed off.`,
        { usableWidthMm: width, trimmedWidthMm },
      ),
    ];
  }
  if (leftover.acrossMm <= STRIP_MM) return [];
  const strip = formatMm(leftover.acrossMm);
  return [
    finding(
      'plan-width-left',
      'look',
      fill === 'whole'
        ? `A strip of ${strip} beside the whole columns stays plain.`
        : `Whole columns leave ${strip} of the usable width, which is printed with cut placements: the pattern does not end alike at both selvedges.`,
      { leftoverMm: leftover.acrossMm },
    ),
  ];
}

function clothFindings({ cloth, masks, fill }: Plan): Finding[] {
  const found: Finding[] = [];
  const unknown = [
    ...(cloth.shrinkAcrossPercent === null ? ['across'] : []),
    ...(cloth.shrinkAlongPercent === null ? ['along'] : []),
  ];
  if (unknown.length > 0) {
    const lost = cloth.table.lengthMm * 0.05;
    found.push(
      finding(
        'plan-shrinkage-unknown',
        'look',
        `How far the cloth shrinks ${unknown.join(' and ')} was not measured: 5 % would take ${formatMm(lost, 0)} of its length; wash a swatch and measure it before and after.`,
        { lostMm: lost },
      ),
    );
  }
  if (cloth.headWasteMm > 0 || cloth.sideWasteMm > 0) {
    const [mm, where, lines] =
      cloth.headWasteMm > 0
        ? [cloth.headWasteMm, 'start', 'columns']
        : [cloth.sideWasteMm, fill === 'whole' ? 'sides' : 'left side', 'rows'];
    found.push(
      finding(
        'plan-start-plain',
        'note',
        `The ${lines} that the repeat shifts begin up to ${formatMm(mm)} in: the pattern has gaps at the ${where} of the cloth, to be trimmed off.`,
        { wasteMm: mm },
      ),
    );
  }
  for (const { side, onClothMm, beyondMm } of masks) {
    const parts = [
      ...(onClothMm > STRIP_MM ? [`mask ${formatMm(onClothMm)} of the cloth`] : []),
      ...(beyondMm > STRIP_MM ? [`lay waste ${formatMm(beyondMm)} wide beyond its edge`] : []),
    ];
    if (parts.length === 0) continue;
    found.push(
      finding('plan-mask', 'note', `${SIDE_WORDS[side]}: ${parts.join(' and ')}, since placements reach over it.`, {
        side,
        onClothMm,
        beyondMm,
      }),
    );
  }
  return found;
}

const SIDE_WORDS = { start: 'At the start', end: 'At the end', left: 'At the left', right: 'At the right' } as const;

function panelFindings({ panels }: Plan): Finding[] {
  if (!panels) return [];
  if (panels.columns === 0) {
    return [
      finding(
        'plan-panels-narrow',
        'fix',
        'The usable cloth is narrower than one unit: panels cut from it can not match side by side.',
        {},
      ),
    ];
  }
  const found: Finding[] = [];
  if (!panels.fits) {
    found.push(
      finding(
        'plan-panels-short',
        'fix',
        `${panels.count} panels that match take ${formatMm(panels.neededMm)} of cloth, more than is there: use a longer cloth or fewer panels.`,
        { neededMm: panels.neededMm },
      ),
    );
  }
  if (panels.trimmedMm > STRIP_MM) {
    found.push(
      finding(
        'plan-panels-trimmed',
        'note',
        `Each panel is trimmed by ${formatMm(panels.trimmedMm)} to ${counted(panels.columns, 'whole unit')} across, so that it meets the next.`,
        { trimmedMm: panels.trimmedMm },
      ),
    );
  }
  return found;
}

function sheetFindings({ wear, choice }: Plan): Finding[] {
  const found: Finding[] = [];
  const most = wear.sheets.reduce((best, { needed }) => Math.max(best, needed), 0);
  if (!wear.gauze && most > 1) {
    found.push(
      finding(
        'plan-bare-paper',
        'look',
        `Paper without gauze lasts two or three uses: this run is thought to take ${most} cut sheets of one stencil; cut several at once, or stick gauze on.`,
        { needed: most, placementsASheet: wear.placementsASheet },
      ),
    );
  }
  if (choice.wipeEvery !== null) {
    found.push(
      finding(
        'plan-wet-stepping',
        'note',
        `Each placement lands on the one before while it is wet: wipe the back of the sheet after every ${choice.wipeEvery} placements.`,
        { wipeEvery: choice.wipeEvery },
      ),
    );
  }
  return found;
}

function finding(
  code: string,
  severity: Severity,
  message: string,
  measure: Readonly<Record<string, number | string>>,
): Finding {
  return { code, topic: 'cloth', severity, message, atMm: null, measure };
}

/** Sizes of a unit: as it is drawn, what that comes to after finishing, and what to draw for it, mm. */
export interface DrawnSize {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly drawWidthMm: number;
  readonly drawHeightMm: number;
  readonly finishedWidthMm: number;
  readonly finishedHeightMm: number;
}

/** A unit that is smaller after finishing than it is drawn. Code: `plan-drawn-size`. */
export function drawnSizeFinding({ widthMm, heightMm, ...sizes }: DrawnSize): Finding {
  const { drawWidthMm, drawHeightMm, finishedWidthMm, finishedHeightMm } = sizes;
  return {
    code: 'plan-drawn-size',
    topic: 'cloth',
    severity: 'look',
    message: `The unit is printed as it is drawn, ${formatMm(widthMm)} × ${formatMm(heightMm)}, and is ${formatMm(finishedWidthMm)} × ${formatMm(finishedHeightMm)} after finishing: for a finished unit of ${formatMm(widthMm)} × ${formatMm(heightMm)} draw it ${formatMm(drawWidthMm)} × ${formatMm(drawHeightMm)}.`,
    atMm: null,
    measure: sizes,
  };
}
