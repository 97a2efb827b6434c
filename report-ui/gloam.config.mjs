// gloam on its own report: every screen of a running report server in all its looks. REPORT_URL is the server's address, REPORT_PAGE a page
// of its store that is to be shown.
const address = process.env.REPORT_URL ?? 'http://127.0.0.1:4217';
const shown = process.env.REPORT_PAGE ?? 'map';

/** Of this report's own tokens: it is opened with this very configuration. */
const proposal = JSON.stringify([['mist.500', 'light', '#777777']]);
const BENCH = `?ramp=mist&theme=light&step=mist.500&proposal=${encodeURIComponent(proposal)}&other=${encodeURIComponent('[]')}`;

/** @type {(name: string, states?: readonly string[], query?: string) => object} */
const screen = (name, states = [], query = '') => ({ name, path: `/#/${name}${query}`, waitFor: 'main h1', states });
/** @type {(look: string, tone: string) => object} */
const look = (name, tone) => ({ tone, tokens: { look: name }, apply: { attribute: { name: 'data-look', value: name } } });

export default {
  app: { url: address },
  pages: [
    screen('tonight', ['hovered']),
    screen('page', ['focused'], `?page=${encodeURIComponent(shown)}`),
    screen('queue'),
    screen('findings'),
    screen('causes'),
    screen('token', [], '?token=mark.faint'),
    screen('ramps'),
    // With a proposal, one to compare it with, and a whole page: all parts show.
    screen('bench', [], BENCH),
    screen('changes'),
    screen('launch'),
    screen('owners'),
    screen('history'),
    screen('api'),
  ],
  themes: { light: look('light', 'light'), dark: look('dark', 'dark'), contrast: look('contrast', 'dark') },
  states: { hovered: { hover: '*' }, focused: { focus: '*' } },
  tokens: { resolver: 'web/tokens/looks.resolver.json' },
  // sky and ember are scales of amount that turn through the hues of an evening; as ramps of one hue they would make no sense.
  ramps: ['mist.*', 'firth.*', 'kelp.*'],
  exempt: [
    {
      selector: '.ramp-chip, .bench-swatch',
      checks: ['unthemed'],
      why: 'The swatches show the steps of the app under test, in its own colours.',
    },
    {
      selector: '.picture, .framed-picture, .crop',
      checks: ['unthemed'],
      why: 'Marks lie on pictures of the app under test, not on this look: light and dark lines side by side show on any of them.',
    },
  ],
  gate: { '*': { '*': 0 } },
};
