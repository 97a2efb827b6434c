// What puts a theme on, as people write it in a configuration.
import type { ThemeApply } from '../plan/configuration.ts';

/** Without what is assumed anyway. */
export function shortApply({ attributes = [], class: classes, ...rest }: ThemeApply): object {
  const on = (selector: string): object => (selector === 'html' ? {} : { on: selector });
  const [only, ...others] = attributes.map(({ on: selector, name, value }) => ({ ...on(selector), name, value }));
  return {
    ...(only === undefined ? {} : { attribute: others.length === 0 ? only : [only, ...others] }),
    ...(classes === undefined
      ? {}
      : {
          class: {
            ...on(classes.on),
            ...(classes.add.length === 0 ? {} : { add: classes.add }),
            ...(classes.remove.length === 0 ? {} : { remove: classes.remove }),
          },
        }),
    ...rest,
  };
}
