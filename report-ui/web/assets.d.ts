// What the bundler makes of style sheets.
declare module '*.css';

/** Address of a script that is built for a worker. */
declare module '*?worker&url' {
  const address: string;
  // eslint-disable-next-line no-restricted-syntax -- the bundler gives the address as the default
  export default address;
}
