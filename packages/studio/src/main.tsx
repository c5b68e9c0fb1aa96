import { render } from 'preact';
import { App } from './app';
import { Painter } from './canvas/painter';
import { EngineClient } from './engine/client';
import { keepWorking } from './engine/keep-working';
import { keepForOffline, sayNewVersion } from './offline/offline';
import { handedFiles, isServedByCommand, openHanded } from './open/handed';
import { demoProject } from './state/demo';
import { keepSaving } from './state/keep-saving';
import { savedProject, savedSettings } from './state/save';
import { Studio } from './state/studio';
import './style/studio.css';
import './style/by-hand.css';
import './style/scan-proof.css';

const root = document.getElementById('studio');
if (root === null) throw new Error('the page has no place for the studio');
// The command serves from this machine, where a newer version shows at once.
const isHosted = import.meta.env.PROD && !isServedByCommand();
const [kept, settings] = await Promise.all([savedProject(), savedSettings()]).catch(() => [null, null] as const);
const studio = new Studio(kept ?? demoProject());
if (settings !== null) studio.set(settings);
const painter = new Painter();
const threads = { client: new EngineClient(painter), painter };
keepSaving(studio);
if (isHosted) sayNewVersion(studio);
const files = await handedFiles().catch(() => {
  studio.set({ said: 'What okuri studio was started with can’t be fetched: end it, and start it once more.' });
  return null;
});
const handed = files === null ? null : openHanded(studio, files, kept);
keepWorking(studio, threads.client);
if (isHosted) keepForOffline(studio);
render(<App studio={studio} threads={threads} handed={handed} />, root);
