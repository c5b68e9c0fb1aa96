import { render } from 'preact';
import { App } from './app';
import { EngineClient } from './engine/client';
import { keepWorking } from './engine/keep-working';
import { demoProject } from './state/demo';
import { Studio } from './state/studio';
import './style/studio.css';

const root = document.getElementById('studio');
if (root === null) throw new Error('the page has no place for the studio');
const studio = new Studio(demoProject());
keepWorking(studio, new EngineClient());
render(<App studio={studio} />, root);
