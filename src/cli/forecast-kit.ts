// What a forecast needs, in one file so that it is loaded at once and only when asked for.
export { forecastTokens } from './run/forecast-tokens.ts';
export { foretellRun } from './run/forecast-run.ts';
export { openToTry, tryForecast } from './run/forecast-try.ts';
export { forecastReport } from './forecast-report.ts';
export { showAgreement, showForecast } from './show-forecast.ts';
