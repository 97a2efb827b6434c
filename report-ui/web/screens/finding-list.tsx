// The findings of a page as a list to walk through with the arrow keys; the chosen one is shown on its picture.
import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { Finding } from '../../api/findings.ts';
import { LevelMark, StatusMark } from '../parts/bits.tsx';
import { Sign, useCheck } from '../parts/glyph.tsx';
import { useVirtual } from '../parts/use-virtual.ts';
import { firstMeasure } from '../parts/first-measure.ts';
import { countText } from '../words.ts';

const ROW_PX = 62;

interface ListProps {
  readonly findings: readonly Finding[];
  readonly total: number;
  readonly complete: boolean;
  /** Themes whose view was not captured: nothing is known of them. */
  readonly unlooked: readonly string[];
  readonly chosen: Finding | null;
  readonly onChoose: (id: string) => void;
}

export function FindingList({ findings, total, complete, unlooked, chosen, onChoose }: ListProps): JSX.Element {
  const scroller = useRef<HTMLDivElement>(null);
  const { items, sizePx, show } = useVirtual(scroller, findings.length, ROW_PX);
  const at = findings.findIndex((finding) => finding.id === chosen?.id);
  useEffect(() => {
    if (at >= 0) show(at);
  }, [at]);

  const move = (event: KeyboardEvent): void => {
    const target = {
      ArrowDown: at + 1,
      ArrowUp: at < 0 ? 0 : at - 1,
      Home: 0,
      End: findings.length - 1,
      PageDown: at + 8,
      PageUp: at - 8,
    }[event.key];
    if (target === undefined) return;
    event.preventDefault();
    const next = findings[Math.max(0, Math.min(findings.length - 1, target))];
    if (next !== undefined) onChoose(next.id);
  };

  const title =
    findings.length === total
      ? countText(total, 'finding')
      : `${findings.length.toLocaleString('en')} of ${countText(total, 'finding')}`;
  return (
    <div class="list">
      <h2 class="list-title">{complete ? title : `${title} so far`}</h2>
      {unlooked.length > 0 && <p class="quiet">Not looked at: {unlooked.join(', ')}.</p>}
      {complete && findings.length === 0 && (
        <p class="quiet">
          {total > 0
            ? 'None passes the filters.'
            : unlooked.length > 0
              ? 'Nothing was found where it was looked.'
              : 'Nothing was found here.'}
        </p>
      )}
      <div
        class="list-body"
        ref={scroller}
        role="listbox"
        aria-label="Findings of this page"
        tabIndex={0}
        aria-activedescendant={at < 0 ? undefined : `finding-${String(at)}`}
        onKeyDown={move}
      >
        <div role="presentation" style={{ height: `${sizePx}px`, position: 'relative' }}>
          {items.map(({ index, start }) => {
            const finding = findings[index];
            return (
              finding !== undefined && (
                <Row
                  key={finding.id}
                  id={`finding-${String(index)}`}
                  finding={finding}
                  count={findings.length}
                  index={index}
                  start={start}
                  chosen={index === at}
                  onChoose={onChoose}
                />
              )
            );
          })}
        </div>
      </div>
    </div>
  );
}

interface RowProps {
  readonly id: string;
  readonly finding: Finding;
  readonly index: number;
  readonly count: number;
  readonly start: number;
  readonly chosen: boolean;
  readonly onChoose: (id: string) => void;
}

function Row({ id, finding, index, count, start, chosen, onChoose }: RowProps): JSX.Element {
  const { title } = useCheck(finding.check);
  return (
    <div
      role="option"
      id={id}
      class={`list-row${chosen ? ' chosen' : ''}`}
      aria-selected={chosen}
      aria-posinset={index + 1}
      aria-setsize={count}
      style={{ transform: `translateY(${start}px)`, height: `${ROW_PX}px` }}
      onClick={() => {
        onChoose(finding.id);
      }}
    >
      <Sign check={finding.check} />
      <span class="list-main">
        <span class="list-line">
          <b>{title}</b> <LevelMark level={finding.level} />
          <span class="list-theme">{finding.theme}</span>
        </span>
        <span class="list-line">
          <code class="list-place">{finding.selector}</code>
          <span class="num">{firstMeasure(finding)}</span>
          <StatusMark status={finding.status} />
        </span>
      </span>
    </div>
  );
}
