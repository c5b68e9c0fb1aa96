// How much of a job is worked out again after a change, in one process and without drawing; and the picture of the demo's cloth by the whole command against a
// general renderer that draws the same cloth, committed as an SVG, at the same size.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { readSvg } from '../../packages/reader/dist/index.js';
import { core } from '../core.mjs';
import { median } from './artwork.mjs';

const DEMO = fileURLToPath(new URL('../../fixtures/demo/', import.meta.url));
const COMMAND = fileURLToPath(new URL('../../packages/cli/dist/main.js', import.meta.url));
/** Each run of a process of its own is a fresh start: some of them for a median. */
const STARTS = 5;
const SHEET_STAGES = ['stencils', 'cut', 'sheets', 'numbers', 'strength', 'proof', 'plan'];
const GENERAL = fileURLToPath(new URL('general-cloth.mjs', import.meta.url));

export async function stagesBench({ quick }) {
  const motif = readSvg(readFileSync(join(DEMO, 'motif.svg')), {});
  const text = readFileSync(join(DEMO, 'demo.okuri.json'), 'utf8');
  const { job } = core.readJob(text, { file: 'demo' });
  const memory = new core.StageMemory();
  const worked = (own) => {
    const start = performance.now();
    const { findings, plan, strength, sheets } = core.runJob(motif, own, { memory });
    if (findings.length + sheets.length + strength.length === 0 || plan === null)
      throw new Error('The demo has no findings.');
    return performance.now() - start;
  };
  const first = worked(job);
  const titled = worked({ ...job, title: `${job.title}, second run` });
  const [ink, ties] = Object.entries(job.ties)[0];
  const tied = worked({ ...job, ties: { ...job.ties, [ink]: ties.slice(1) } });
  const share = (ms) =>
    `${((100 * ms) / first).toFixed(1)} % of a first run (${Math.round(ms)} of ${Math.round(first)} ms)`;
  return [
    ['the demo after another title, stages alone', share(titled), 'under 3 %'],
    ['the demo without one of its ties, stages alone', share(tied), 'under 80 %'],
    ...(await clothRows(quick ? 1 : STARTS)),
  ];
}

async function clothRows(starts) {
  const folder = mkdtempSync(join(tmpdir(), 'okuri-bench-'));
  try {
    const ran = (...args) => {
      const { status, stderr } = spawnSync(process.execPath, args, {
        encoding: 'utf8',
        cwd: fileURLToPath(new URL('..', import.meta.url)),
      });
      if (status !== 0 && status !== 1) throw new Error(stderr);
      return stderr;
    };
    const target = join(folder, 'cloth.png');
    const command = [COMMAND, 'cloth', join(DEMO, 'demo.okuri.json'), '-o', target, '--force'];
    const stages = JSON.parse(
      ran(...command, '--stages')
        .trim()
        .split('\n')
        .at(-1),
    ).map(({ stage }) => stage);
    const touched = stages.filter((stage) => SHEET_STAGES.includes(stage));
    const width = readFileSync(target).readUInt32BE(16);
    const ours = await median(() => ran(...command), starts);
    const general = await median(
      () => ran(GENERAL, join(DEMO, 'cloth.svg'), join(folder, 'general.png'), String(width)),
      starts,
    );
    return [
      [
        'okuri cloth on the demo, whole process, against a general renderer of the same cloth',
        `${(ours / general).toFixed(2)} × (${Math.round(ours)}, ${Math.round(general)} ms); stages of sheets: ${touched.join(', ') || 'none'}`,
        'at most 2.5 ×',
      ],
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
