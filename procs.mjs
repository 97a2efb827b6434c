import { launchBrowser } from './dist/runner/launch-browser.js';
import { findBrowser } from './dist/runner/find-browser.js';
import { execSync } from 'node:child_process';
import { readFileSync, readdirSync } from 'node:fs';
import { setTimeout as pause } from 'node:timers/promises';
const extra=process.argv.slice(2);
import { chromium } from './dist/runner/playwright.js';
const f=await findBrowser(process.env);
let b;
if(extra.length){const l=chromium.launch; chromium.launch=function(o){return l.call(this,{...o,args:[...o.args,...extra]})};}
b=await launchBrowser(f);
const c=await b.newContext({viewport:null}); const p=await c.newPage(); await p.goto('data:text/html,<p>hi'); const cdp=await c.newCDPSession(p); for(let i=0;i<5;i++) await cdp.send('Page.captureScreenshot',{format:'png',optimizeForSpeed:true});
await pause(2000);
const all=new Map(); for(const pid of readdirSync('/proc').filter(n=>/^\d+$/.test(n))){try{const s=readFileSync(`/proc/${pid}/stat`,'utf8');const m=/^(\d+) \((.*)\) (\S) (\d+) (?:\S+ ){9}(\d+) (\d+)/s.exec(s);all.set(pid,{ppid:m[4],cpu:(+m[5]+ +m[6])/100,cmd:readFileSync(`/proc/${pid}/cmdline`,'utf8').replaceAll('\0',' ')});}catch{}}
const mine=new Set([String(process.pid)]);for(let k=0;k<6;k++)for(const[pid,v]of all)if(mine.has(v.ppid))mine.add(pid);
let sum=0;for(const pid of mine){const v=all.get(pid);if(!v)continue;sum+=v.cpu;console.log(pid,v.cpu.toFixed(2),process.argv.includes('--full')?v.cmd:(v.cmd.match(/--type=\S+|--utility-sub-type=\S+|--top-chrome-webui|--extension-process|--instant-process/g)??[v.cmd.slice(0,60)]).join(' '));}
console.log('sum',sum.toFixed(2));
if(process.env.SHOWCMD) for(const pid of mine){const v=all.get(pid); if(v&&!v.cmd.includes('--type=')&&v.cmd.includes('chromium')) console.log(v.cmd)}
await b.close();
