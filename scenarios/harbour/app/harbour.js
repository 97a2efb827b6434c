// The behaviour of the screens: theme, clock, menus, tabs, switches, dialogs, form checks, charts.
(() => {
  const root = document.documentElement;
  const KEY = 'harbour-theme';
  const kept = localStorage.getItem(KEY);
  if (kept) root.dataset.theme = kept;

  const all = (selector) => [...document.querySelectorAll(selector)];
  const token = (name) => getComputedStyle(root).getPropertyValue(name).trim();

  /** Calls back now and whenever the colours may have changed. */
  const onTheme = (paint) => {
    paint();
    new MutationObserver(paint).observe(root, { attributes: true, attributeFilter: ['data-theme'] });
    matchMedia('(prefers-contrast: more)').addEventListener('change', paint);
  };

  // A dial with its own shadow tree.
  class GaugeDial extends HTMLElement {
    connectedCallback() {
      const level = Number(this.getAttribute('level'));
      const share = Math.min(1, Math.max(0, level / 6));
      const at = (s, r) => {
        const a = Math.PI * (0.75 + 1.5 * s);
        return `${(110 + r * Math.cos(a)).toFixed(1)} ${(110 + r * Math.sin(a)).toFixed(1)}`;
      };
      const arc = (to, r) => `M ${at(0, r)} A ${r} ${r} 0 ${to > 0.667 ? 1 : 0} 1 ${at(to, r)}`;
      this.attachShadow({ mode: 'open' }).innerHTML = `
        <style>
          :host { position: relative; }
          svg { display: block; width: 100%; }
          .track { fill: none; stroke: var(--chart-grid); stroke-width: 12; stroke-linecap: round; }
          .level { fill: none; stroke: var(--chart-line); stroke-width: 12; stroke-linecap: round; }
          .read { position: absolute; inset: 76px 0 auto; text-align: center; }
          .read::before { content: 'now'; display: block; color: var(--mark-quiet); font-size: 13px; }
          b { font-size: 34px; font-weight: 650; line-height: 1.15; color: var(--mark-main); }
          .unit { display: block; font-size: 14px; color: var(--edge-firm); }
        </style>
        <svg viewBox="0 0 220 200" aria-hidden="true"><path class="track" d="${arc(1, 90)}"/><path class="level" d="${arc(share, 90)}"/></svg>
        <div class="read"><b>${level.toFixed(2)}</b><span class="unit">m above datum</span></div>`;
    }
  }
  customElements.define('gauge-dial', GaugeDial);

  // The week before, on canvas.
  function paintWeek(canvas) {
    const box = canvas.getBoundingClientRect();
    if (box.width === 0) return;
    const scale = devicePixelRatio;
    canvas.width = Math.round(box.width * scale);
    canvas.height = Math.round(box.height * scale);
    const c = canvas.getContext('2d');
    c.scale(scale, scale);
    c.fillStyle = token('--face-raised');
    c.fillRect(0, 0, box.width, box.height);
    c.strokeStyle = token('--chart-grid');
    for (let day = 0; day <= 7; day += 1) {
      const x = Math.round((box.width * day) / 7) + 0.5;
      c.beginPath();
      c.moveTo(x, 0);
      c.lineTo(x, box.height);
      c.stroke();
    }
    const height = (hour) => 0.5 + 0.28 * Math.cos((hour / 12.42) * 2 * Math.PI) * (1 + 0.25 * Math.cos((hour / 354) * 2 * Math.PI)) + 0.08 * Math.sin(hour / 24);
    c.strokeStyle = token('--chart-line');
    c.lineWidth = 2;
    c.beginPath();
    for (let i = 0; i <= 400; i += 1) c.lineTo((box.width * i) / 400, box.height * (1 - height((i / 400) * 168)));
    c.stroke();
  }

  function tabs(list) {
    const buttons = [...list.querySelectorAll('[role=tab]')];
    for (const button of buttons) {
      button.addEventListener('click', () => {
        for (const other of buttons) {
          const on = other === button;
          other.setAttribute('aria-selected', String(on));
          document.getElementById(other.getAttribute('aria-controls')).hidden = !on;
        }
      });
    }
  }

  function menus() {
    for (const button of all('[data-opens]')) {
      const menu = document.getElementById(button.dataset.opens);
      const show = (open) => {
        menu.hidden = !open;
        button.setAttribute('aria-expanded', String(open));
      };
      button.addEventListener('click', () => show(menu.hidden));
      button.closest('[data-context]')?.addEventListener('contextmenu', (event) => {
        event.preventDefault();
        show(true);
      });
      menu.addEventListener('click', () => show(false));
      addEventListener('keydown', (event) => event.key === 'Escape' && show(false));
    }
  }

  function checkForm(form) {
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      let wrong = null;
      for (const field of form.querySelectorAll('[data-error]')) {
        const bad = !field.checkValidity();
        field.setAttribute('aria-invalid', String(bad));
        let note = field.parentElement.querySelector('.error');
        if (!note) {
          note = document.createElement('p');
          note.className = 'error';
          field.after(note);
        }
        note.textContent = bad ? field.dataset.error : '';
        note.hidden = !bad;
        if (bad) wrong ??= field;
      }
      if (wrong) {
        wrong.focus({ preventScroll: true });
        wrong.scrollIntoView({ block: 'center' });
      } else document.getElementById(form.dataset.done)?.showModal();
    });
  }

  addEventListener('DOMContentLoaded', () => {
    for (const select of all('[data-theme-select]')) {
      onTheme(() => (select.value = root.dataset.theme ?? 'noon'));
      select.addEventListener('change', () => {
        root.dataset.theme = select.value;
        localStorage.setItem(KEY, select.value);
      });
    }
    const tick = () => {
      for (const clock of all('.clock')) clock.textContent = new Date().toISOString().slice(11, 19) + ' UTC';
    };
    tick();
    setInterval(tick, 1000);
    menus();
    all('[role=tablist]').forEach(tabs);
    all('form[data-check]').forEach(checkForm);
    for (const canvas of all('canvas.week')) onTheme(() => paintWeek(canvas));
    for (const button of all('[role=switch]')) {
      button.addEventListener('click', () => button.setAttribute('aria-checked', String(button.getAttribute('aria-checked') !== 'true')));
    }
    for (const button of all('[data-dialog]')) button.addEventListener('click', () => document.getElementById(button.dataset.dialog).showModal());
    for (const button of all('dialog [data-close]')) button.addEventListener('click', () => button.closest('dialog').close());
    for (const button of all('.ranges button')) {
      button.addEventListener('click', () => {
        for (const other of button.parentElement.children) other.setAttribute('aria-pressed', String(other === button));
      });
    }
  });
})();
