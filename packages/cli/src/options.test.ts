import { Command } from 'commander';
import { expect, it } from 'vitest';
import { addJobOptions, jobOverrides, spreadLists } from './options.js';

function overrides(...args: string[]) {
  const program = new Command('okuri').exitOverride();
  const command = program.command('check').argument('<name>');
  addJobOptions(command, ['motif', 'pages', 'cloth']).action(() => {});
  program.parse(spreadLists(['check', ...args]), { from: 'user' });
  return {
    name: command.args[0],
    font: command.opts().font,
    values: Object.fromEntries(jobOverrides(command).map(({ path, value }) => [path.join('.'), value])),
  };
}

it('says nothing of options that were not given', () => {
  expect(overrides('leaf.svg').values).toEqual({});
});

it('puts every option where the job keeps it', () => {
  const given = overrides(
    'leaf.svg',
    '--repeat',
    'brick',
    '--hold-width',
    '1in',
    '--across',
    '2',
    '--scale-along',
    '1.01',
  );
  expect(given.values).toEqual({ repeat: 'brick', 'hold.width': '1in', across: 2, 'pages.scaleAlong': 1.01 });
  expect(overrides('leaf.svg', '--down', 'two').values).toEqual({ down: 'two' });
});

it('reads colours by name', () => {
  const given = overrides('leaf.svg', '--paper-colour', 'white', '--dye', 'rgb(0 0 128)', '--hairlines', 'line');
  expect(given.values).toEqual({ paperColour: '#ffffff', 'cloth.dye': '#000080', hairlines: 'line' });
});

it('shows and hides', () => {
  expect(overrides('leaf.svg', '--seams', '--no-dots', '--mirror').values).toEqual({
    'cloth.seams': true,
    'cloth.dots': false,
    'pages.mirror': true,
  });
});

it('takes lists of colours and fonts, before the name or after it', () => {
  const values = { cut: ['#000000', '#aabbcc'] };
  expect(overrides('leaf.svg', '--cut', 'black', '#ABC')).toMatchObject({ name: 'leaf.svg', values });
  expect(overrides('--cut', 'black', '#ABC', 'leaf.svg')).toMatchObject({ name: 'leaf.svg', values });
  expect(overrides('--cut', 'black', '--cut', '#abc', 'leaf.svg')).toMatchObject({ name: 'leaf.svg', values });
  expect(overrides('--font', 'a.ttf', 'B.OTF', 'leaf.svg')).toMatchObject({
    name: 'leaf.svg',
    font: ['a.ttf', 'B.OTF'],
  });
  expect(overrides('leaf.svg', '--cut', 'dark').values).toEqual({ cut: ['dark'] });
});

it('takes several offsets after one option, by the names that ends have and had', () => {
  const given = ['proof', 'job.json', '--offset', 'J1=0.4mm', 'j12=-0.2mm', 'X3=none'];
  const one = (offset: string) => ['--offset', offset];
  expect(spreadLists(given)).toEqual(['proof', 'job.json', ...['J1=0.4mm', 'j12=-0.2mm', 'X3=none'].flatMap(one)]);
});
