// Hourly heights of a month for four stations, from three tidal constituents.
const STATIONS = [
  { name: 'Gannet Sluice', mean: 3.1, range: 2.1, phase: 0 },
  { name: 'Mirrow Point', mean: 2.7, range: 1.8, phase: 0.9 },
  { name: 'Saltern Quay', mean: 3.4, range: 2.4, phase: 1.7 },
  { name: 'Old Weir', mean: 1.9, range: 1.2, phase: 2.6 },
];
const DAYS = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];

function heightAt({ mean, range, phase }, hour) {
  const wave = (period, share, shift) => range * share * Math.cos((2 * Math.PI * hour) / period + shift);
  return mean + wave(12.4206, 0.72, phase) + wave(12, 0.24, 0.4) + wave(23.9345, 0.1, 1.1);
}

function monthTable(station) {
  const head = Array.from({ length: 24 }, (_, hour) => `<th scope="col">${String(hour).padStart(2, '0')}</th>`).join('');
  const rows = Array.from({ length: 31 }, (_, day) => {
    const neap = day % 15 === 7 || day % 15 === 8;
    const cells = Array.from({ length: 24 }, (__, hour) => {
      const at = day * 24 + hour;
      const [before, here, after] = [-1, 0, 1].map((step) => heightAt(station, at + step));
      const turn = (here > before && here >= after) || (here < before && here <= after);
      return `<td${turn ? ' class="turn"' : neap ? ' class="neap"' : ''}>${here.toFixed(1)}</td>`;
    }).join('');
    return `<tr><th scope="row">${DAYS[day % 7]} <span>${day + 1}</span></th>${cells}</tr>`;
  }).join('');
  return `<section class="card month"><h2>${station.name}</h2><table class="hours"><thead><tr><th scope="col">Day</th>${head}</tr></thead><tbody>${rows}</tbody></table></section>`;
}

document.getElementById('tide-grid').innerHTML = STATIONS.map(monthTable).join('');
