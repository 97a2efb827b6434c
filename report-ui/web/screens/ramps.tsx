// Ramps: each one's lightness, chroma and hue along its steps, all themes together; every step with its contrast and its uses.
import type { JSX } from 'preact';
import type { Ramp, RampStep } from '../../api/ramps.ts';
import { Empty, Waiting } from '../parts/bits.tsx';
import { Choice } from '../parts/choice.tsx';
import { Lines, SeriesLegend } from '../parts/plot.tsx';
import type { Series } from '../parts/plot.tsx';
import { amend } from '../route.ts';
import { useAnswer } from '../use-answer.ts';
import { countText, ratioText } from '../words.ts';
import type { ScreenProps } from './screen-props.ts';

type RampTheme = Ramp['themes'][number];

export function RampsScreen({ run, query }: ScreenProps): JSX.Element {
  const asking = useAnswer('ramps', { params: { run: run.id }, query: {} });
  const ramps = asking.value?.ramps ?? [];
  const ramp = ramps.find(({ name }) => name === query['ramp']) ?? ramps[0];
  return (
    <>
      <div class="head">
        <h1>Ramps</h1>
        {ramps.length > 1 && ramp !== undefined && (
          <span class="head-tools">
            <Choice
              label="Ramp"
              value={ramp.name}
              options={ramps.map(({ name, themes }) => ({ value: name, label: `${name}${faultCount(themes)}` }))}
              onChange={(name) => {
                amend({ ramp: name });
              }}
            />
          </span>
        )}
      </div>
      {ramp !== undefined ? (
        <RampSheet ramp={ramp} />
      ) : asking.value === undefined ? (
        <Waiting asking={asking} what="the ramps" />
      ) : (
        <NoRamps known={asking.value.known} />
      )}
    </>
  );
}

function faultCount(themes: Ramp['themes']): string {
  const faults = themes.reduce((sum, theme) => sum + theme.faults.length, 0);
  return faults === 0 ? '' : ` (${countText(faults, 'fault')})`;
}

function NoRamps({ known }: { readonly known: boolean }): JSX.Element {
  return (
    <Empty title={known ? 'The token files hold no ramp.' : 'No token files are known here.'}>
      <p>
        {known
          ? 'Ramps are told from the alias structure, or named in the configuration.'
          : 'Name them under tokens in the configuration the report is started from.'}
      </p>
    </Empty>
  );
}

/** The step a fault is about stands first; its neighbours are named beside it and have done nothing. */
function isFaulty(faults: RampTheme['faults'], { token }: RampStep): boolean {
  return faults.some(({ steps }) => steps[0] === token);
}

/** One ramp with its plots and tables. */
export function RampSheet({ ramp }: { readonly ramp: Ramp }): JSX.Element {
  const names = [...new Set(ramp.themes.flatMap(({ steps }) => steps.map(({ name }) => name)))];
  const series = (value: (step: RampStep) => number | null): readonly Series[] =>
    ramp.themes.map(({ theme, steps, faults }) => ({
      name: theme,
      points: steps.map((step) => ({
        x: step.name,
        y: value(step),
        faulty: isFaulty(faults, step),
      })),
    }));
  return (
    <>
      <section class="ramp-plots" aria-label={`Plots of ${ramp.name}`}>
        <SeriesLegend names={ramp.themes.map(({ theme }) => theme)} />
        <div class="ramp-three">
          <Lines
            bare
            title="Lightness, CIE L*"
            yName="L*"
            xName="Step"
            xs={names}
            series={series(({ lightness }) => lightness)}
            domain={[0, 100]}
          />
          <Lines bare title="Chroma, OKLCH" yName="chroma" xName="Step" xs={names} series={series(({ chroma }) => chroma)} />
          <Lines
            bare
            title="Hue, OKLCH"
            yName="degrees"
            xName="Step"
            xs={names}
            series={series(({ hueDeg }) => hueDeg)}
            domain={[0, 360]}
          />
        </div>
        <p class="quiet">Steps with a fault are framed. The tables below hold the same numbers.</p>
      </section>
      {ramp.themes.map((theme) => (
        <ThemeSteps key={theme.theme} ramp={ramp.name} theme={theme} />
      ))}
    </>
  );
}

function ThemeSteps({
  ramp,
  theme: { theme, steps, faults, apart },
}: {
  readonly ramp: string;
  readonly theme: RampTheme;
}): JSX.Element {
  const title = `${ramp} in ${theme}`;
  const faulty = (step: RampStep): boolean => isFaulty(faults, step);
  return (
    <section class="ramp-theme" aria-label={title}>
      <h2>{theme}</h2>
      <div class="ramp-strip" aria-hidden="true">
        {steps.map((step) => (
          <span
            key={step.token}
            class="ramp-chip"
            style={{ backgroundColor: step.color, color: step.onWhite > step.onBlack ? '#fff' : '#000' }}
          >
            {step.name}
            {faulty(step) && <span class="ramp-flag">▲</span>}
          </span>
        ))}
      </div>
      {faults.length > 0 && (
        <ul class="ramp-faults">
          {faults.map((fault, index) => (
            <li key={index}>
              <span aria-hidden="true">▲</span> {fault.message}
            </li>
          ))}
        </ul>
      )}
      <div class="scroll-x" tabIndex={0} role="group" aria-label={`Steps of ${title}`}>
        <table class="table">
          <caption class="unseen">Steps of {title}</caption>
          <thead>
            <tr>
              <th scope="col">Step</th>
              <th scope="col">Colour</th>
              <th scope="col" class="num">
                L*
              </th>
              <th scope="col" class="num">
                Chroma
              </th>
              <th scope="col" class="num">
                Hue
              </th>
              <th scope="col" class="num">
                On white
              </th>
              <th scope="col" class="num">
                On black
              </th>
              <th scope="col" class="num">
                Places
              </th>
              <th scope="col">Used by</th>
            </tr>
          </thead>
          <tbody>
            {steps.map((step) => (
              <tr key={step.token} class={faulty(step) ? 'faulty' : ''}>
                <th scope="row">
                  {step.name}
                  {faulty(step) && <span> ▲</span>}
                </th>
                <td>
                  <code>{step.color}</code>
                </td>
                <td class="num">{step.lightness.toFixed(1)}</td>
                <td class="num">{step.chroma.toFixed(3)}</td>
                <td class="num">{step.hueDeg === null ? '–' : step.hueDeg.toFixed(0)}</td>
                <td class="num">{ratioText(step.onWhite)}</td>
                <td class="num">{ratioText(step.onBlack)}</td>
                <td class="num">{step.uses === null ? '–' : step.uses.toLocaleString('en')}</td>
                <td class="used-by">{step.usedBy.length === 0 ? <span class="quiet">nothing</span> : step.usedBy.join(', ')}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {apart.length > 0 && (
        <p class="apart">
          Least contrast by distance:{' '}
          {apart.map((ratio, index) => (
            <span key={index} class={ratio >= 4.5 ? 'apart-reached' : ''}>
              {countText(index + 1, 'step')} {ratioText(ratio)}
            </span>
          ))}
        </p>
      )}
    </section>
  );
}
