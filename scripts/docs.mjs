// Makes the pages of the engine's public face (out/docs) from the comments in it, and compiles every example in them, in README.md and in the comments of the
// packages. Exit 1 where an example does not compile.
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { compile } from './boot/build.mjs';
import { declarationsOf } from './docs/declarations.mjs';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const PAGES = join(ROOT, 'out/docs');
/** Below a folder that knows the packages. */
const EXAMPLES = 'tests/out/examples';
const EXAMPLE = /^```ts\n([\s\S]*?)^```$/gm;

/** One page an entry: every name with what is said about it and its declaration. */
function pages() {
  mkdirSync(PAGES, { recursive: true });
  for (const [name, entry] of [
    ['core', 'core/dist/index.d.ts'],
    ['core-verify', 'core/dist/verify/index.d.ts'],
    ['reader', 'reader/dist/index.d.ts'],
    ['writer', 'writer/dist/index.d.ts'],
  ]) {
    const list = declarationsOf(join(ROOT, 'packages', entry));
    const parts = list.map(({ name: what, text, about }) => `## ${what}\n\n${about}\n\n\`\`\`\n${text}\n\`\`\``);
    writeFileSync(join(PAGES, `${name}.md`), `# @okuri/${name.replace('-', '/')}\n\n${parts.join('\n\n')}\n`);
    console.log(`out/docs/${name}.md: ${list.length} names`);
  }
}

/** Examples of a text, each under the name of where it stands. */
function examplesOf(file) {
  const text = readFileSync(join(ROOT, file), 'utf8');
  // In a comment every line begins with a star.
  const plain = file.endsWith('.md') ? text : text.replaceAll(/^\s*\* ?/gm, '');
  return [...plain.matchAll(EXAMPLE)].map(([, code], k) => ({
    name: `${file.replaceAll(/[^\w]+/g, '-')}-${k + 1}`,
    code,
  }));
}

function sources() {
  return ['core', 'reader', 'writer'].flatMap((name) =>
    readdirSync(join(ROOT, 'packages', name, 'src'), { recursive: true })
      .filter((file) => /(?<!\.test|\.test-help)\.ts$/.test(file))
      .map((file) => `packages/${name}/src/${file}`),
  );
}

function compileExamples() {
  const folder = join(ROOT, EXAMPLES);
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  const found = ['README.md', 'DEVELOPERS.md', ...sources()].flatMap(examplesOf);
  for (const { name, code } of found) writeFileSync(join(folder, `${name}.ts`), `${code}\nexport {};\n`);
  const options = { noEmit: true, composite: false, incremental: false, noUnusedLocals: false, types: ['node'] };
  writeFileSync(
    join(folder, 'tsconfig.json'),
    JSON.stringify({ extends: '../../../tsconfig.base.json', compilerOptions: options, include: ['*.ts'] }),
  );
  const code = found.length === 0 ? 0 : compile(ROOT, EXAMPLES);
  console.log(`${found.length} examples ${code === 0 ? 'compile' : 'do not all compile'}`);
  return code;
}

pages();
process.exitCode = compileExamples() === 0 ? 0 : 1;
