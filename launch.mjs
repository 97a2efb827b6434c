import { launchBrowser } from './dist/runner/launch-browser.js';
import { findBrowser } from './dist/runner/find-browser.js';
const t=performance.now(); const s=(w)=>console.log(w,((performance.now()-t)/1000).toFixed(2));
const f=await findBrowser(process.env); s('found');
const b=await launchBrowser(f); s('launched');
if(process.argv[2]){const c=await b.newContext({viewport:null}); const p=await c.newPage(); s('page'); await p.goto('data:text/html,<p>hi'); s('goto'); const cdp=await c.newCDPSession(p); for(let i=0;i<Number(process.argv[2]);i++) await cdp.send('Page.captureScreenshot',{format:'png',optimizeForSpeed:true}); s('shots');}
await b.close(); s('closed');
