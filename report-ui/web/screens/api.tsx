// The API document, to be read: each request with what it takes and what it answers.
import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { here } from '../client.ts';
import { Empty } from '../parts/bits.tsx';
import { siteForm } from '../site-files.ts';
import type { ScreenProps } from './screen-props.ts';

type Json = Readonly<Record<string, unknown>>;

export function ApiScreen(_: ScreenProps): JSX.Element {
  const [document, setDocument] = useState<Json | null>(null);
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    if (siteForm()) return;
    fetch(here('/api/openapi.json'))
      .then((response) => response.json())
      .then((got: unknown) => {
        setDocument(object(got));
      })
      .catch(() => {
        setFailed(true);
      });
  }, []);
  if (siteForm() || failed) return <Empty title="The API is described where the report server runs." />;
  if (document === null) return <p class="waiting">Reading the API document …</p>;
  const operations = Object.entries(object(document['paths'])).flatMap(([path, methods]) =>
    Object.entries(object(methods)).map(([method, operation]) => ({
      path,
      method: method.toUpperCase(),
      operation: object(operation),
    })),
  );
  return (
    <>
      <div class="head">
        <h1>API</h1>
        <p class="head-note">
          OpenAPI {text(document['openapi'])} · <a href="/api/openapi.json">the document itself</a> ·{' '}
          {text(object(document['info'])['description'])}
        </p>
      </div>
      <ul class="api">
        {operations.map(({ path, method, operation }) => (
          <li key={`${method} ${path}`} class="panel">
            <h2>
              <span class="layer">{method}</span> <code>{path}</code>
            </h2>
            <p>{text(operation['summary'])}</p>
            <Parameters list={operation['parameters']} />
            <Shape title="Body" shape={bodyOf(operation)} />
            <Shape title="Answer" shape={answerOf(operation)} />
          </li>
        ))}
      </ul>
    </>
  );
}

function Parameters({ list }: { readonly list: unknown }): JSX.Element | null {
  const rows = Array.isArray(list) ? list.map(object) : [];
  if (rows.length === 0) return null;
  return (
    <table class="table">
      <thead>
        <tr>
          <th scope="col">Parameter</th>
          <th scope="col">In</th>
          <th scope="col">Needed</th>
          <th scope="col">What</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => {
          const schema = object(row['schema']);
          return (
            <tr key={text(row['name'])}>
              <th scope="row">
                <code>{text(row['name'])}</code>
              </th>
              <td>{text(row['in'])}</td>
              <td>{row['required'] === true ? 'yes' : 'no'}</td>
              <td>
                {text(schema['description']) || (Array.isArray(schema['enum']) ? schema['enum'].join(', ') : text(schema['type']))}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

function Shape({ title, shape }: { readonly title: string; readonly shape: unknown }): JSX.Element | null {
  if (shape === undefined) return null;
  return (
    <details>
      <summary>{title}</summary>
      <pre tabIndex={0}>{JSON.stringify(shape, null, 2)}</pre>
    </details>
  );
}

function bodyOf(operation: Json): unknown {
  return object(object(object(operation['requestBody'])['content'])['application/json'])['schema'];
}

function answerOf(operation: Json): unknown {
  return object(object(object(object(operation['responses'])['200'])['content'])['application/json'])['schema'];
}

function object(value: unknown): Json {
  return typeof value === 'object' && value !== null ? Object.fromEntries(Object.entries(value)) : {};
}

function text(value: unknown): string {
  return typeof value === 'string' ? value : '';
}
