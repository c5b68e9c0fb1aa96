// Holds the engine's public face against what is committed of it (packages/core/api.md): a change has to be meant. With --write it is written anew.
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { declarationsOf } from './docs/declarations.mjs';

const path = (name) => fileURLToPath(new URL(`../packages/core/${name}`, import.meta.url));
const REPORT = path('api.md');

/** The report: every name with its declaration. */
export function apiReport() {
  const list = declarationsOf(path('dist/index.d.ts'));
  const blocks = list.map(({ text }) => `\`\`\`ts\n${text}\n\`\`\``);
  return `# What \`@okuri/core\` offers\n\nMade by \`npm run api -- --write\`; a check fails where it is not up to date.\n\n${blocks.join('\n\n')}\n`;
}

const report = apiReport();
if (process.argv.includes('--write')) writeFileSync(REPORT, report);
else if (readFileSync(REPORT, 'utf8') !== report) {
  const [old, now] = [readFileSync(REPORT, 'utf8'), report].map((text) => new Set(text.split('\n')));
  const lines = [
    ...[...old].filter((line) => !now.has(line)).map((line) => `- ${line}`),
    ...[...now].filter((line) => !old.has(line)).map((line) => `+ ${line}`),
  ];
  console.error(
    `The public face of core is not as packages/core/api.md has it. If that is meant, run npm run api -- --write.\n${lines.slice(0, 20).join('\n')}`,
  );
  process.exitCode = 1;
}
