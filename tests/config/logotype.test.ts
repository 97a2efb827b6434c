// An exemption is for a logotype (WCAG 2.2, 1.4.3) because it says so, not because of words in its reason.
import { expect, test } from 'vitest';
import { verdictOnSample } from '../../src/checks/verdict-on-sample.ts';
import { validateConfiguration } from '../../src/config/read-configuration.ts';
import { textRun } from '../checks/made-samples.ts';

const NIGHT = { id: 'quay@dusk.rest.desk', page: 'quay', theme: 'dusk', state: 'rest', viewport: 'desk' };

test.each([
  [{ selector: '.wordmark', why: 'Agreed with the harbour office.', logotype: true }, true],
  [{ selector: '.wordmark', why: 'Agreed with the harbour office.', logotype: false }, false],
  [{ selector: '.wordmark', why: 'The logo: a logotype.' }, false],
])('%j: %s', (exemption, logotype) => {
  const configuration = validateConfiguration('/harbour/gloam.config.json', {
    app: { url: 'http://127.0.0.1:1' },
    pages: ['/'],
    themes: { noon: { tone: 'light' }, dusk: { tone: 'dark' } },
    exempt: [exemption],
  });
  const mark = textRun({ color: '#cccccc', background: '#ffffff', exemptions: [0] });
  const standard = { level: 'AA', exempt: configuration.exempt, today: '2031-03-04' } as const;
  const exempt = logotype ? 'logotype' : 'configured';
  expect(verdictOnSample(mark, NIGHT, standard)).toMatchObject({ verdict: 'exempt', exempt, why: exemption.why });
});
