// Tables wider than a phone: the head they share, and rows that stack there as small blocks, each value led by its column's name.
// Roles are written out because some browsers drop them from tables that are laid out as blocks.
import type { ComponentChildren, JSX } from 'preact';

/** A name, or one of numbers. */
export type Column = string | { readonly num: string };

export function TableHead({ columns }: { readonly columns: readonly Column[] }): JSX.Element {
  return (
    <thead role="rowgroup">
      <tr role="row">
        {columns.map((column) => {
          const name = typeof column === 'string' ? column : column.num;
          return (
            <th scope="col" role="columnheader" key={name} class={typeof column === 'string' ? undefined : 'num'}>
              {name}
            </th>
          );
        })}
      </tr>
    </thead>
  );
}

export function StackTable({
  name,
  caption,
  columns,
  children,
}: {
  readonly name: string;
  readonly caption: string;
  readonly columns: readonly Column[];
  readonly children: ComponentChildren;
}): JSX.Element {
  return (
    <div class="scroll-x" tabIndex={0} role="group" aria-label={name}>
      <table class="table stack" role="table">
        <caption class="unseen">{caption}</caption>
        <TableHead columns={columns} />
        <tbody role="rowgroup">{children}</tbody>
      </table>
    </div>
  );
}

/** @param name of its column */
export function Value({
  name,
  class: className,
  children,
}: {
  readonly name: string;
  readonly class?: string;
  readonly children: ComponentChildren;
}): JSX.Element {
  return (
    <td role="cell" data-name={name} class={className}>
      {children}
    </td>
  );
}
