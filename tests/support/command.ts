import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** The built command. */
export const MAIN = fileURLToPath(new URL('../../packages/cli/dist/main.js', import.meta.url));

/** What came of one run of the command. */
export interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
  readonly seconds: number;
  /** Largest memory of the process, MB. */
  readonly megabytes: number;
}

/** Tells the largest memory on a fourth channel as the process ends. */
const WATCH = `data:text/javascript,${encodeURIComponent(
  "import { writeSync } from 'node:fs'; process.on('exit', () => writeSync(3, String(process.resourceUsage().maxRSS)));",
)}`;

/** Runs the built command in a process of its own. */
export function okuri(args: readonly string[], cwd: string): Promise<Ran> {
  return new Promise((resolve, reject) => {
    const begun = performance.now();
    const child = spawn(process.execPath, ['--import', WATCH, MAIN, ...args], {
      cwd,
      stdio: ['ignore', 'pipe', 'pipe', 'pipe'],
    });
    const texts = ['', '', '', ''];
    for (const n of [1, 2, 3]) child.stdio[n]?.on('data', (chunk) => (texts[n] += chunk));
    child.on('error', reject);
    child.on('close', (code) =>
      resolve({
        code,
        out: texts[1],
        err: texts[2],
        seconds: (performance.now() - begun) / 1000,
        megabytes: Number(texts[3]) / 1024,
      }),
    );
  });
}
