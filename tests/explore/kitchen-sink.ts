// One page with the parts that style sheets of libraries know, in the words of the tide-gauge network.

const PARTS = `<nav class="navbar container"><a class="navbar-brand navbar-item" href="#top">Low Pier</a></nav>
<main class="container" id="top"><h1 class="title">Gauges</h1>
<p>The water stands <mark>2.4 m</mark> above chart datum. <a href="#log">Alarm log</a> <small>read at noon</small></p>
<button class="button is-primary">Accept</button> <button class="button secondary outline">Later</button> <button class="button" disabled>Closed</button>
<article class="card box"><h2>Berths</h2><p>Three are free.</p><div class="notification is-warning" role="alert">Gale from the south-west.</div></article>
<form><label class="label">Ship <input class="input" placeholder="Name of the ship" value="Heron"></label>
<select class="select"><option>North quay</option><option>South quay</option></select>
<label><input type="checkbox" checked> Needs a pilot</label><progress class="progress" value="40" max="100"></progress></form>
<table class="table"><thead><tr><th>Time</th><th>Height</th></tr></thead><tbody><tr><td>05:12</td><td>4.1 m</td></tr><tr><td>11:40</td><td>0.8 m</td></tr></tbody></table>
<blockquote>Two lights, one above the other.</blockquote><pre><code>gauge --read north</code></pre><span class="tag is-success">steady</span></main>`;

/** @param sheet name of the style sheet beside the page */
export function kitchenSink(sheet: string): string {
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>Kitchen sink</title><link rel="stylesheet" href="${sheet}"></head><body>${PARTS}</body></html>`;
}
