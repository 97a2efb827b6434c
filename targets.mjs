import { launchBrowser } from './dist/runner/launch-browser.js';
import { findBrowser } from './dist/runner/find-browser.js';
const b=await launchBrowser(await findBrowser(process.env));
const c=await b.newContext({viewport:null}); const p=await c.newPage(); await p.goto('data:text/html,<p>hi');
const s=await b.newBrowserCDPSession();
console.log(JSON.stringify((await s.send('Target.getTargets',{filter:[{}]})).targetInfos.map(t=>[t.type,t.url]),null,1));
await b.close();
