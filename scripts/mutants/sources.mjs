import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { mutantsOf } from './operators.mjs';
import { regionsOf } from './regions.mjs';
import { parse } from './syntax.mjs';

const CORE = 'packages/core/src';

/** The folders of core that are tried. */
export const FOLDERS = [
  'repeat',
  'joins',
  'stencil',
  'strength',
  'ties',
  'register',
  'cloth',
  'pages',
  'draw',
  'papers',
];

/** Core's sources as they are, each read and parsed once. Files are named from the checkout on. */
export class Sources {
  #root;
  #texts = new Map();
  #trees = new Map();
  #files = null;

  constructor(root) {
    this.#root = root;
  }

  text(file) {
    if (!this.#texts.has(file)) this.#texts.set(file, readFileSync(join(this.#root, file), 'utf8'));
    return this.#texts.get(file);
  }

  parsed(file) {
    if (!this.#trees.has(file)) {
      const tree = parse(this.text(file));
      this.#trees.set(file, { tree, regions: regionsOf(tree) });
    }
    return this.#trees.get(file);
  }

  /** All mutants of the folders that are tried, by folder. */
  mutants() {
    return Object.fromEntries(
      FOLDERS.map((folder) => [
        folder,
        this.#all()
          .filter((file) => file.startsWith(`${CORE}/${folder}/`))
          .flatMap((file) => mutantsOf(file, this.text(file))),
      ]),
    );
  }

  /** The files that import a name from a file. */
  importing(file, name) {
    const module = file.slice(file.lastIndexOf('/') + 1).replace(/\.ts$/, '.js');
    const word = new RegExp(`import [^;]*\\b${name}\\b[^;]*/${module.replaceAll('.', '\\.')}'`);
    return this.#all().filter((other) => other !== file && word.test(this.text(other)));
  }

  #all() {
    this.#files ??= readdirSync(join(this.#root, CORE), { recursive: true })
      .filter((name) => /(?<!\.test|\.test-help|\.d)\.ts$/.test(name))
      .map((name) => `${CORE}/${name}`)
      .sort();
    return this.#files;
  }
}
