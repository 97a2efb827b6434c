// Puts the page on.
import { render } from 'preact';
import { App } from './app.tsx';
import { putOnLook, readLook } from './look.ts';
import './tokens/looks.css';
import './styles/base.css';
import './styles/parts.css';
import './styles/screens.css';
import './styles/bench.css';
import './styles/page.css';
import './styles/list.css';

putOnLook(readLook());
const root = document.getElementById('report');
if (root !== null) render(<App />, root);
