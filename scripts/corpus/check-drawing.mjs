import { placed } from './settings.mjs';

const INKS_MOST = 2;

/**
 * One drawing the whole way: read, laid, cut, drawn, and its lines held against the artwork. `engine`: the packages `core`, `reader`, `writer` and core's entry
 * `verify`. Gives `{ refused: sentence }` where the reader or the job refuses it, else the sheets' verifications added up.
 */
export function checkDrawing(engine, { name, svg }, settings) {
  const { core, reader } = engine;
  try {
    const text = placed(svg, settings.place);
    const own = settings.place === null ? ownSize(reader, core, text) : null;
    const motif = own ?? reader.readSvg(text, { widthMm: settings.widthMm });
    const file = JSON.stringify({
      okuri: 1,
      motif: 'drawing.svg',
      date: '2026-01-01',
      ...(own ? {} : { width: `${settings.widthMm}mm` }),
      ...fewInks(motif, settings),
      ...settings.says,
    });
    const { job } = core.readJob(file, { file: name });
    return checkJob(engine, { motif, job }, settings);
  } catch (error) {
    if (error instanceof core.InputError) return { refused: error.message };
    throw error;
  }
}

/** Of a drawing of many colours two are cut: each makes a sheet of its own. */
function fewInks({ shapes }, { inkAt, says }) {
  const inks = [...new Set(shapes.map(({ ink }) => ink))].filter((ink) => ink !== '#ffffff');
  if (inks.length <= INKS_MOST || says.drawn === 'cloth') return {};
  const first = Math.floor(inkAt * inks.length);
  return { cut: Array.from({ length: INKS_MOST }, (_, k) => inks[(first + k) % inks.length]) };
}

/** The drawing at its own size; null where it states none. */
function ownSize(reader, core, text) {
  try {
    const motif = reader.readSvg(text);
    return motif.frame.assumedPpi === null ? motif : null;
  } catch (error) {
    if (error instanceof core.InputError) return null;
    throw error;
  }
}

/** The same from a motif and a job on. With `ties` all that are suggested stand; `mirrored` looks at mirrored print sheets too. */
export function checkJob(engine, { motif, job }, { ties = false, mirrored = false } = {}) {
  const { core } = engine;
  let result = core.runJob(motif, job);
  let tied = 0;
  if (ties) {
    const suggested = core.suggestTies(result);
    tied = suggested.reduce((sum, one) => sum + one.suggested.length, 0);
    if (tied > 0) {
      const chosen = core.acceptTies(job, suggested, { ids: 'all', stencil: null, kind: 'printed' });
      result = core.runJob(motif, { ...job, ties: chosen.ties });
    }
  }
  const font = engine.writer.fontMetrics();
  const total = { sheets: result.sheets.length, ties: tied, ...NOTHING, misses: [], exemptMost: 0 };
  const drawings = core.stencilDrawings(result, font);
  result.sheets.forEach((_, k) => {
    addUp(total, engine.verify.verifySheet(result, k, engine.verify.drawnCuts(drawings[k].pages[0].items)), result, k);
  });
  if (mirrored) {
    // Named one by one: a copy of the whole result would work out its plan too, which some of these jobs can't have.
    const { motif: sized, lattice, cell, sheets, strength, strips, statements } = result;
    const mirrorJob = { ...result.job, pages: { ...result.job.pages, mirror: true } };
    const turned = { job: mirrorJob, motif: sized, lattice, cell, sheets, strength, strips, statements };
    core.printSheetDrawings(turned, font).forEach(({ groups }, k) => {
      const cuts = engine.verify.drawnCuts(groups.cartoon);
      addUp(total, engine.verify.verifySheet(turned, k, cuts, { mirrored: true }), turned, k);
    });
  }
  return total;
}

export const NOTHING = {
  samples: 0,
  lengthMm: 0,
  edgeMm: 0,
  slightMm: 0,
  judged: { outline: 0, stop: 0, tie: 0, edge: 0 },
  exempt: { stop: 0, tie: 0, edge: 0, dropped: 0 },
};

function addUp(total, found, { sheets }, k) {
  addLengths(total, found);
  total.exemptMost = Math.max(total.exemptMost, found.exemptShare);
  const { x0, y0 } = sheets[k].field;
  for (const miss of found.misses)
    total.misses.push({ sheet: k + 1, sheetX: miss.x + x0, sheetY: miss.y + y0, ...miss });
}

/** Adds counts and lengths of one verification to a total. */
export function addLengths(total, { samples, lengthMm, edgeMm, slightMm, judged, exempt }) {
  total.samples += samples;
  total.lengthMm += lengthMm;
  total.edgeMm += edgeMm;
  total.slightMm += slightMm;
  total.judged = sumOf(total.judged, judged);
  total.exempt = sumOf(total.exempt, exempt);
}

function sumOf(a, b) {
  return Object.fromEntries(Object.keys(a).map((key) => [key, a[key] + b[key]]));
}
