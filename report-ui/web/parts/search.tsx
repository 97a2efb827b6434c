// Search over tokens, pages, causes, owners, selectors, texts and colours: opened by a key from anywhere, answered while typing.
import type { JSX } from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { SearchHit } from '../../api/search.ts';
import { Swatch } from './bits.tsx';
import { typing } from './keys.ts';
import { href } from '../route.ts';
import { useAnswer } from '../use-answer.ts';
import { countText } from '../words.ts';
import { listHref } from '../list/list-asked.ts';

const KIND_WORDS = {
  token: 'token',
  page: 'page',
  cause: 'cause',
  owner: 'owner',
  theme: 'theme',
  selector: 'selector',
  colour: 'colour',
  text: 'text',
} as const satisfies Record<SearchHit['kind'], string>;

function hrefOf(run: string, { kind, key }: SearchHit): string {
  switch (kind) {
    case 'token':
      return href('token', { run, token: key });
    case 'page':
      return href('page', { run, page: key });
    case 'cause':
      return href('causes', { run, cause: key });
    case 'owner':
      return listHref(run, { owner: key });
    case 'theme':
      return listHref(run, { theme: key });
    case 'selector':
    case 'colour':
    case 'text':
      return listHref(run, { find: key });
  }
}

/** Opens on `/` where nothing is being typed. */
export function useSearchKey(open: () => void): void {
  useLayoutEffect(() => {
    const press = (event: KeyboardEvent): void => {
      if (event.key !== '/' || typing(event) || event.ctrlKey || event.metaKey || event.altKey) return;
      event.preventDefault();
      open();
    };
    addEventListener('keydown', press);
    return () => {
      removeEventListener('keydown', press);
    };
  }, []);
}

/** Typing does not ask anew with every letter. */
const PAUSE_MS = 120;

export function SearchDialog({ run, onClose }: { readonly run: string; readonly onClose: () => void }): JSX.Element {
  const dialog = useRef<HTMLDialogElement>(null);
  const timer = useRef(0);
  const [asked, setAsked] = useState('');
  const [at, setAt] = useState(0);
  const answer = useAnswer('search', asked === '' ? null : { params: { run }, query: { q: asked } });
  const last = useRef<readonly SearchHit[]>([]);
  if (answer.value !== undefined) last.current = answer.value.hits;
  const hits = asked === '' ? [] : last.current;
  const chosen = hits[Math.min(at, hits.length - 1)];
  // Before anything else happens: the next key belongs to the field already.
  useLayoutEffect(() => {
    const before = document.activeElement;
    const shown = dialog.current;
    shown?.showModal();
    addEventListener('hashchange', onClose);
    return () => {
      removeEventListener('hashchange', onClose);
      clearTimeout(timer.current);
      // Behind an open dialog nothing takes the focus.
      shown?.close();
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  const go = (hit: SearchHit | undefined): void => {
    if (hit === undefined) return;
    location.hash = hrefOf(run, hit);
    onClose();
  };
  const press = (event: KeyboardEvent): void => {
    const by = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (by !== undefined) {
      event.preventDefault();
      setAt(Math.max(0, Math.min(hits.length - 1, at + by)));
    }
    if (event.key === 'Enter' && answer.state === 'ready') go(chosen);
  };
  return (
    <dialog
      ref={dialog}
      class="search"
      aria-label="Search"
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
      onClick={(event) => {
        if (event.target === dialog.current) onClose();
      }}
    >
      <input
        type="text"
        role="combobox"
        aria-label="Search"
        aria-expanded={hits.length > 0}
        aria-controls="search-hits"
        aria-activedescendant={chosen === undefined ? undefined : `hit-${String(hits.indexOf(chosen))}`}
        placeholder="token, page, cause, owner, selector, text or colour"
        autofocus
        maxLength={200}
        onKeyDown={press}
        onInput={(event) => {
          const { value } = event.currentTarget;
          clearTimeout(timer.current);
          timer.current = setTimeout(() => {
            setAsked(value.trim());
            setAt(0);
          }, PAUSE_MS);
        }}
      />
      <ul id="search-hits" role="listbox" aria-label="Found">
        {hits.map((hit, index) => (
          <li
            key={`${hit.kind} ${hit.key}`}
            id={`hit-${String(index)}`}
            role="option"
            aria-selected={hit === chosen}
            class={hit === chosen ? 'chosen' : ''}
            onPointerMove={() => {
              setAt(index);
            }}
            onClick={() => {
              go(hit);
            }}
          >
            <span class="search-kind">{KIND_WORDS[hit.kind]}</span>
            <span class="search-title">{hit.kind === 'colour' ? <Swatch color={hit.key} /> : hit.title}</span>
            <span class="quiet search-note">
              {hit.note}
              {hit.count !== null && `${hit.note === '' ? '' : ' · '}${countText(hit.count, 'finding')}`}
            </span>
          </li>
        ))}
      </ul>
      <p class="quiet" role="status">
        {asked === ''
          ? 'Type to search; arrows choose, Enter opens, Escape closes.'
          : answer.state === 'failed'
            ? answer.error.message
            : answer.state === 'ready' && hits.length === 0
              ? 'Nothing of that name in this run.'
              : ''}
      </p>
    </dialog>
  );
}
