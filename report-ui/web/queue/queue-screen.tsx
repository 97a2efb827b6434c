// The morning queue: causes with new findings one by one, how they look beside the reference theme, and an answer to each. Everything
// has a key; every answer can be taken back; what is left stands above.
import type { JSX } from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Given, Looks, Queue, QueueItem } from '../../api/queue.ts';
import type { Run, Session } from '../../api/runs.ts';
import { Refusal, tell } from '../client.ts';
import { listHref } from '../list/list-asked.ts';
import { Empty, Fresh, Waiting } from '../parts/bits.tsx';
import { Layer, RepairNote, causeSubject } from '../parts/cause-parts.tsx';
import { Button, Switch } from '../parts/choice.tsx';
import { keepKeys, keysOn, typing } from '../parts/keys.ts';
import { amend, href } from '../route.ts';
import { forgetAnswers, useAnswer } from '../use-answer.ts';
import { countText, momentText, numberText } from '../words.ts';
import type { ScreenProps } from '../screens/screen-props.ts';
import { AnswerForm } from './answer-form.tsx';
import type { Kind, Wish } from './answer-form.tsx';
import { LooksPart } from './looks-part.tsx';

export function QueueScreen({ session, run, query }: ScreenProps): JSX.Element {
  const asking = useAnswer('queue', { params: { run: run.id }, query: {} });
  const queue = asking.value;
  const [keys, setKeys] = useState(keysOn());
  return (
    <>
      <div class="head">
        <h1>Morning queue</h1>
        {queue !== undefined && (
          <p class="head-note" role="status">
            {queue.left === 0
              ? `Nothing is left of ${countText(queue.total, 'cause')} with new findings.`
              : `${numberText(queue.left)} of ${countText(queue.total, 'cause')} with new findings left`}
          </p>
        )}
        <Switch
          label="One-letter keys"
          on={keys}
          onChange={(on) => {
            keepKeys(on);
            setKeys(on);
          }}
        />
      </div>
      {queue === undefined ? (
        <Waiting asking={asking} what="the queue" />
      ) : queue.items.length === 0 ? (
        <Empty title="Nothing is new this morning.">
          <a href={listHref(run.id, {})}>What is known already</a>
        </Empty>
      ) : (
        <Work session={session} run={run} queue={queue} chosen={query['cause']} />
      )}
    </>
  );
}

interface WorkProps {
  readonly session: Session;
  readonly run: Run;
  readonly queue: Queue;
  readonly chosen: string | undefined;
}

function Work({ session, run, queue, chosen }: WorkProps): JSX.Element {
  const { items } = queue;
  const wanted =
    chosen === undefined ? items.findIndex(({ answer }) => answer === null) : items.findIndex(({ cause }) => cause.id === chosen);
  const at = Math.max(0, wanted);
  const item = items[at];
  const looks = useAnswer('looks', item === undefined ? null : { params: { run: run.id }, query: { cause: item.cause.id } });
  const [form, setForm] = useState<Kind | null>(null);
  const [shown, setShown] = useState(0);
  const [last, setLast] = useState<Given | null>(null);
  const [said, setSaid] = useState('');
  const card = useRef<HTMLElement>(null);
  const goTo = (index: number): void => {
    const cause = items[Math.max(0, Math.min(items.length - 1, index))]?.cause.id;
    setForm(null);
    setShown(0);
    amend({ run: run.id, cause });
    card.current?.focus();
  };
  const fail = (error: unknown): void => {
    setSaid(error instanceof Refusal ? `${error.message} ${error.hint}` : 'That did not work.');
  };
  const send = (wish: Wish): void => {
    if (session.token === null) return;
    tell('answer', { wish }, session.token).then((answer) => {
      setLast(answer);
      setSaid(answer.done);
      const next = items.findIndex((other, index) => index !== at && other.answer === null);
      forgetAnswers();
      goTo(next < 0 ? at : next);
    }, fail);
  };
  const takeBack = (answer: Given): void => {
    if (session.token === null) return;
    tell('takeBack', { answer: answer.id }, session.token).then(({ done }) => {
      setLast(null);
      setSaid(done);
      forgetAnswers();
      goTo(items.findIndex(({ cause }) => cause.id === answer.cause));
    }, fail);
  };
  const press = (event: KeyboardEvent): void => {
    if (event.key === 'Escape' && form !== null) {
      setForm(null);
      card.current?.focus();
      return;
    }
    if (!keysOn() || typing(event) || event.ctrlKey || event.metaKey || event.altKey) return;
    const kinds: Readonly<Record<string, Kind>> = { i: 'intended', e: 'exempt', h: 'hand-on' };
    const kind = kinds[event.key];
    const take = last ?? item?.answer ?? null;
    if (kind !== undefined && queue.may.answer) setForm(kind);
    else if (event.key === 'n' || event.key === 'ArrowRight') goTo(at + 1);
    else if (event.key === 'p' || event.key === 'ArrowLeft') goTo(at - 1);
    else if (event.key === 'l') setShown((old) => old + 1);
    else if (event.key === 'u' && take !== null) takeBack(take);
    else return;
    event.preventDefault();
  };
  // With the screen itself: effects come a moment later, and a key pressed in between would be lost.
  useLayoutEffect(() => {
    addEventListener('keydown', press);
    return () => {
      removeEventListener('keydown', press);
    };
  });
  if (item === undefined) return <Empty title="This run has no such cause." />;
  return (
    <>
      <p class="queue-said" role="status">
        {said}
        {last !== null && (
          <>
            {last.command !== undefined && <code class="breaks"> {last.command}</code>}{' '}
            <Button
              kind="quiet"
              onClick={() => {
                takeBack(last);
              }}
            >
              Take that back (u)
            </Button>
          </>
        )}
      </p>
      <div class="queue">
        <Steps items={items} at={at} onChoose={goTo} />
        <article class="queue-card" ref={card} tabIndex={-1} aria-labelledby="queue-title">
          <Card run={run} item={item} />
          {looks.value === undefined ? (
            <Waiting asking={looks} what="how it looks" />
          ) : (
            <LooksPart run={run} looks={looks.value} chosen={shown} sharp={session.sharp} onChoose={setShown} />
          )}
          <Answering
            queue={queue}
            item={item}
            run={run}
            form={form}
            looks={looks.value}
            shown={shown}
            onForm={setForm}
            onSend={send}
            onTakeBack={takeBack}
          />
        </article>
      </div>
    </>
  );
}

function Steps({
  items,
  at,
  onChoose,
}: {
  readonly items: readonly QueueItem[];
  readonly at: number;
  readonly onChoose: (at: number) => void;
}): JSX.Element {
  return (
    <nav class="queue-steps" aria-label="Causes of the queue">
      <ol>
        {items.map(({ cause, answer }, index) => (
          <li key={cause.id}>
            <button
              type="button"
              aria-current={index === at ? 'step' : undefined}
              onClick={() => {
                onChoose(index);
              }}
            >
              <span class="queue-step-name">{causeSubject(cause)}</span>
              <span class="quiet">{answer === null ? `${numberText(cause.fresh)} new` : ANSWERED[answer.kind]}</span>
            </button>
          </li>
        ))}
      </ol>
    </nav>
  );
}

const ANSWERED = { intended: 'intended', exempt: 'exempt', 'hand-on': 'handed on' } as const;

function Card({ run, item: { cause, answer } }: { readonly run: Run; readonly item: QueueItem }): JSX.Element {
  return (
    <header>
      <p class="cause-layer">
        <Layer layer={cause.layer} /> <Fresh count={cause.fresh} />{' '}
        <a href={listHref(run.id, { cause: cause.id })}>{countText(cause.findings, 'finding')}</a> on{' '}
        {countText(cause.pages, 'page')} in {cause.themes.join(', ')}
      </p>
      <h2 id="queue-title">
        <a href={href('causes', { run: run.id, cause: cause.id })}>{causeSubject(cause)}</a>
      </h2>
      <p>{cause.why}</p>
      {cause.repair !== undefined && <RepairNote layer={cause.layer} repair={cause.repair} />}
      {answer !== null && (
        <p class="queue-answered">
          {answer.done}{' '}
          <span class="quiet">{[answer.who, momentText(answer.at), answer.note].filter((part) => part !== '').join(' · ')}</span>
          {answer.command !== undefined && <code class="breaks">{answer.command}</code>}
        </p>
      )}
    </header>
  );
}

interface AnsweringProps {
  readonly queue: Queue;
  readonly item: QueueItem;
  readonly run: Run;
  readonly form: Kind | null;
  readonly looks: Looks | undefined;
  readonly shown: number;
  readonly onForm: (kind: Kind | null) => void;
  readonly onSend: (wish: Wish) => void;
  readonly onTakeBack: (answer: Given) => void;
}

function Answering({ queue, item, run, form, looks, shown, onForm, onSend, onTakeBack }: AnsweringProps): JSX.Element {
  if (!queue.may.answer) return <p class="quiet">This report is read-only: answers are given where it is not.</p>;
  const { answer } = item;
  return (
    <section class="queue-answers" aria-label="Answer">
      <div class="queue-buttons">
        {(['intended', 'exempt', 'hand-on'] as const).map((kind) => (
          <Button
            key={kind}
            kind={form === kind ? 'main' : 'plain'}
            onClick={() => {
              onForm(form === kind ? null : kind);
            }}
          >
            {BUTTONS[kind]}
          </Button>
        ))}
        {answer !== null && (
          <Button
            kind="quiet"
            onClick={() => {
              onTakeBack(answer);
            }}
          >
            Take the answer back (u)
          </Button>
        )}
        <span class="quiet queue-keys">n next · p before · l next look · / search</span>
      </div>
      {form !== null && looks !== undefined && (
        <AnswerForm
          key={`${form} ${item.cause.id}`}
          kind={form}
          run={run}
          cause={item.cause.id}
          looks={looks}
          look={looks.looks[shown % Math.max(1, looks.looks.length)]}
          canWrite={queue.may.write}
          onSend={onSend}
        />
      )}
    </section>
  );
}

const BUTTONS = { intended: 'Intended (i)', exempt: 'Exempt (e)', 'hand-on': 'Hand on (h)' } as const;
