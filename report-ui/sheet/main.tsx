// Puts the sheet of a token set on: the facts stand in the page as JSON.
import { render } from 'preact';
import type { TokenSheet } from '../api/token-sheet.ts';
import { Sheet } from './sheet.tsx';
import '../web/tokens/looks.css';
import '../web/styles/base.css';
import '../web/styles/parts.css';
import '../web/styles/screens.css';
import './sheet.css';

const place = document.getElementById('sheet');
const facts = document.getElementById('facts')?.textContent;
const sheet: unknown = JSON.parse(facts ?? 'null');
if (place !== null && isSheet(sheet)) render(<Sheet sheet={sheet} />, place);

/** The command writes the facts and this page together: which of its objects it is, is all there is to tell. */
function isSheet(value: unknown): value is TokenSheet {
  return typeof value === 'object' && value !== null && 'ramps' in value && 'pairs' in value;
}
