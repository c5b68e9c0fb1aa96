import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join, relative } from 'node:path';

/**
 * Open sets of icons and patterns from the registry of packages, by exporters of many kinds. `folder` holds files of SVG; `iconify` sets hold the bodies
 * of their drawings in one JSON file; `urls` are functions that give a drawing as the address of its data.
 */
export const SETS = [
  { package: '@mdi/svg', licence: 'Apache-2.0', folder: 'svg' },
  { package: 'bootstrap-icons', licence: 'MIT', folder: 'icons' },
  { package: 'simple-icons', licence: 'CC0-1.0', folder: 'icons' },
  { package: 'remixicon', licence: 'Apache-2.0', folder: 'icons' },
  { package: '@fortawesome/fontawesome-free', licence: 'CC-BY-4.0', folder: 'svgs' },
  { package: '@mapbox/maki', licence: 'CC0-1.0', folder: 'icons' },
  { package: '@primer/octicons', licence: 'MIT', folder: 'build/svg' },
  { package: 'lucide-static', licence: 'ISC', folder: 'icons' },
  { package: 'feather-icons', licence: 'MIT', folder: 'dist/icons' },
  { package: 'flag-icons', licence: 'MIT', folder: 'flags' },
  { package: '@iconify-json/tabler', licence: 'MIT', iconify: 'icons.json' },
  { package: '@iconify-json/ph', licence: 'MIT', iconify: 'icons.json' },
  { package: '@iconify-json/game-icons', licence: 'CC-BY-3.0', iconify: 'icons.json' },
  { package: '@iconify-json/healthicons', licence: 'MIT', iconify: 'icons.json' },
  { package: '@iconify-json/fluent-emoji-flat', licence: 'MIT', iconify: 'icons.json' },
  { package: 'hero-patterns', licence: 'MIT, drawings CC-BY-4.0', urls: 'dist/hero-patterns.cjs.js' },
];

const require = createRequire(new URL('../../tests/package.json', import.meta.url));

/** The names of a set's drawings in a fixed order, and a function that gives one of them as text. */
export function drawingsOf(set) {
  const root = packageFolder(set.package);
  const named = (name) => `${set.package} ${name}`;
  if (set.folder !== undefined) {
    const folder = join(root, set.folder);
    return { names: svgFiles(folder).map(named), read: (k) => readFileSync(join(folder, svgFiles(folder)[k]), 'utf8') };
  }
  if (set.iconify !== undefined) {
    const { icons, width = 16, height = 16 } = JSON.parse(readFileSync(join(root, set.iconify), 'utf8'));
    const names = Object.keys(icons).sort();
    const read = (k) => {
      const { body, width: w = width, height: h = height } = icons[names[k]];
      return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 ${w} ${h}">${body}</svg>`;
    };
    return { names: names.map(named), read };
  }
  const functions = require(join(root, set.urls));
  const names = Object.keys(functions).sort();
  const read = (k) => {
    const url = functions[names[k]]('#000000', 1);
    return decodeURIComponent(url.slice(url.indexOf(',') + 1, url.lastIndexOf("')")));
  };
  return { names: names.map(named), read };
}

/** The folder of a package, also of one that lets nobody read its package.json. */
function packageFolder(name) {
  for (const base of require.resolve.paths(name)) {
    const folder = join(base, name);
    if (existsSync(join(folder, 'package.json'))) return folder;
  }
  throw new Error(`The package ${name} is not installed: run npm install.`);
}

const listed = new Map();

/** All files of SVG below a folder, in the order of their names. */
export function svgFiles(folder) {
  const known = listed.get(folder);
  if (known) return known;
  const found = [];
  const walk = (at) => {
    for (const name of readdirSync(at).sort()) {
      const path = join(at, name);
      if (statSync(path).isDirectory()) walk(path);
      else if (name.toLowerCase().endsWith('.svg')) found.push(relative(folder, path));
    }
  };
  walk(folder);
  listed.set(folder, found);
  return found;
}
