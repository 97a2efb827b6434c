// What the commands that show reports need, in one file so that it is loaded at once and only by them.
export { serveReports } from '../../report-ui/server/serve-reports.ts';
export { writeSite } from '../../report-ui/server/write-site.ts';
export { reportSources } from './report-sources.ts';
