import { render } from 'preact';
import { App } from './app';
import { Painter } from './canvas/painter';
import { EngineClient } from './engine/client';
import { keepWorking } from './engine/keep-working';
import { demoProject } from './state/demo';
import { Studio } from './state/studio';
import './style/studio.css';

const root = document.getElementById('studio');
if (root === null) throw new Error('the page has no place for the studio');
const studio = new Studio(demoProject());
const threads = { client: new EngineClient(), painter: new Painter() };
keepWorking(studio, threads.client);
render(<App studio={studio} threads={threads} />, root);
