import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';

/** Digits of what is drawn that are kept: finer than what is asked of any change, coarser than noise of the last bit. */
const DIGITS = 9;
const OUTPUTS = ['cloth', 'sheets', 'guide', 'stencil', 'map'];
/** How far the readings of a sheet are off its plan, mm, in the order of the distances. */
const OFF_MM = [0.4, -0.3, 0.9, 0.2, 1.1, -0.6];
const SIDES = ['top', 'right', 'bottom', 'left', 'falling', 'rising'];
const TRACED_DPI = 150;

/**
 * What every command writes for one job, and what is drawn for it before a writer sees it: texts by their names. `engine`: the packages `core`, `reader`,
 * `writer`, `cli` and the renderer `Resvg`.
 */
export async function recordJob(engine, { svg, job, whole }) {
  const folder = mkdtempSync(join(tmpdir(), 'okuri-hashes-'));
  const texts = {};
  const at = (name) => join(folder, name);
  const plain = (text) => text.replaceAll(folder, '.').replaceAll(/"okuriSeal":\s*"[^"]*"/g, '"okuriSeal": ""');
  const run = async (name, ...args) => {
    const said = { out: '', err: '' };
    const code = await engine.cli.runCommand(args, {
      out: (text) => {
        said.out += text;
      },
      err: (text) => {
        said.err += text;
      },
      errIsTerminal: false,
    });
    texts[`${name}: said`] = plain(`${code}\n${said.out}\n${said.err}`);
    return said.out;
  };
  const put = (name, files) => {
    for (const file of filesIn(files)) {
      const bytes = readFileSync(join(files, file));
      texts[`${name}: ${file}`] = /\.(pdf|png)$/.test(file) ? bytes.toString('latin1') : plain(bytes.toString('utf8'));
    }
  };
  const note = (name, path) => {
    texts[name] = existsSync(path) ? plain(readFileSync(path, 'utf8')) : '';
  };
  try {
    writeFileSync(at('motif.svg'), svg);
    writeFileSync(at('job.json'), JSON.stringify(job));
    await run('make', 'make', at('job.json'), '-o', at('made'), '--no-keep');
    put('make', at('made'));
    const checked = await run('check', 'check', at('job.json'), '--json');
    await run('ties', 'ties', at('job.json'), '--json');
    await run('plan', 'plan', at('job.json'), '--json');
    if (checked !== '') await run('square', 'square', at('job.json'), '--json', ...readings(JSON.parse(checked)));
    Object.assign(texts, drawn(engine, svg, job));
    if (whole) {
      await run('check in words', 'check', at('job.json'));
      await run('plan in words', 'plan', at('job.json'));
      await run('square in words', 'square', at('job.json'), ...(checked === '' ? [] : readings(JSON.parse(checked))));
      await run('what to square', 'square', at('job.json'));
      writeFileSync(at('tied.json'), JSON.stringify(job));
      await run('ties taken', 'ties', at('tied.json'), '--accept', 'all');
      note('job with ties', at('tied.json'));
      await run('ties in words', 'ties', at('tied.json'));
      await proved(run, put, note, at);
      writeFileSync(at('scan.png'), scanOf(engine, svg));
      await run('trace', 'trace', at('scan.png'), '-o', at('traced.svg'), '--resolution', String(TRACED_DPI), '--json');
      note('traced', at('traced.svg'));
    }
    return texts;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** A proof measured by hand: the map and the form, offsets at ends, and everything that is made with them. */
async function proved(run, put, note, at) {
  const asked = await run('proof', 'proof', at('job.json'), '--json', '-o', at('proof'));
  put('proof', at('proof'));
  const names = [...new Set(asked.match(/"[A-Z]+\d+"/g) ?? [])].map((name) => name.slice(1, -1));
  const offsets = names.slice(0, 6).map((name, k) => `${name}=${(k % 2 === 0 ? 0.3 : -0.2).toFixed(1)}mm`);
  if (offsets.length === 0) return;
  await run('offsets', 'proof', at('job.json'), ...offsets.flatMap((one) => ['--offset', one]), '-o', at('strips'));
  put('offsets', at('strips'));
  note('job with offsets', at('job.json'));
  await run('check with offsets', 'check', at('job.json'), '--json');
  await run('make with offsets', 'make', at('job.json'), '-o', at('proved'), '--no-keep');
  put('make with offsets', at('proved'));
}

/** The drawings themselves, and apart from them the texts that stand on them. */
function drawn({ core, reader, writer }, svg, says) {
  const texts = {};
  try {
    const { job, remarks } = core.readJob(JSON.stringify(says), { file: 'job.json' });
    const result = core.runJob(reader.readSvg(svg, { widthMm: job.size.widthMm, hairlines: job.hairlines }), job, {
      remarks,
    });
    for (const what of OUTPUTS) {
      for (const { name, drawing } of core.outputs(result, what, { font: writer.fontMetrics })) {
        const words = [];
        texts[`drawn ${name}`] = JSON.stringify(drawing, (_, value) => plainValue(value, words), 1);
        texts[`words ${name}`] = words.join('\n');
      }
    }
  } catch (error) {
    if (!(error instanceof core.InputError)) throw error;
    texts['drawn refused'] = error.message;
  }
  return texts;
}

function plainValue(value, words) {
  if (value?.kind === 'text') {
    words.push(value.text);
    return { kind: 'text' };
  }
  if (ArrayBuffer.isView(value)) return Array.from(value, rounded);
  return typeof value === 'number' ? rounded(value) : value;
}

const rounded = (value) => (Number.isFinite(value) ? Number(value.toFixed(DIGITS)) : value);

/** Readings that are off the plan of the first sheet, so that there is something to be said of it. */
function readings(report) {
  const sheet = report.sheet ?? report.sheets?.[0];
  const { widthMm, heightMm } = sheet ?? {};
  if (!(widthMm > 0 && heightMm > 0)) return [];
  const diagonal = Math.hypot(widthMm, heightMm);
  const planned = [widthMm, heightMm, widthMm, heightMm, diagonal, diagonal];
  return SIDES.flatMap((side, k) => [`--${side}`, `${(planned[k] + OFF_MM[k]).toFixed(1)}mm`]);
}

function scanOf({ Resvg }, svg) {
  const { width } = new Resvg(svg).render();
  const mm = Number(/\bwidth="([\d.]+)mm"/.exec(svg)?.[1] ?? width / 3);
  return new Resvg(svg, { background: '#fff', fitTo: { mode: 'width', value: Math.round((mm / 25.4) * TRACED_DPI) } })
    .render()
    .asPng();
}

function filesIn(folder) {
  let names;
  try {
    names = readdirSync(folder).sort();
  } catch {
    return [];
  }
  return names.flatMap((name) => {
    const path = join(folder, name);
    return statSync(path).isDirectory() ? filesIn(path).map((file) => relative(folder, join(path, file))) : [name];
  });
}
