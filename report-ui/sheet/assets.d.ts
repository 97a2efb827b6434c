// What the bundler makes of style sheets.
declare module '*.css';
