// Looks of pages whose theme was switched on in place by one visit, for the visit that loads the same page with that theme.
import type { View } from '../../src/samples/view.ts';
import type { Look } from '../theme/fresh-load.ts';

export interface ShownInPlace {
  /** The first word on a view counts; null where the page could not be shown, or need not be. */
  show(view: View, look: Look | null): void;
  /** Comes when whoever was to show it is done. */
  of(view: View): Promise<Look | null>;
}

export function openShownInPlace(): ShownInPlace {
  const looks = new Map<string, { readonly promise: Promise<Look | null>; readonly resolve: (look: Look | null) => void }>();
  const lookAt = ({ id }: View): NonNullable<ReturnType<typeof looks.get>> => {
    let found = looks.get(id);
    if (found === undefined) {
      let resolve: (look: Look | null) => void = () => undefined;
      const promise = new Promise<Look | null>((done) => (resolve = done));
      looks.set(id, (found = { promise, resolve }));
    }
    return found;
  };
  return {
    show: (view, look) => {
      lookAt(view).resolve(look);
    },
    of: (view) => lookAt(view).promise,
  };
}
