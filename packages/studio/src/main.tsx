import { render } from 'preact';
import { App } from './app';

const root = document.getElementById('studio');
if (root === null) throw new Error('the page has no place for the studio');
render(<App />, root);
