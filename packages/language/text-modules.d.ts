/** Text files are imported as strings by the bundler and the test runner. */
declare module '*.rig' {
  const text: string;
  export default text;
}
declare module '*.css' {
  const text: string;
  export default text;
}
/** A program for a page, as text, with its hash for the page's policy (.ci/pageScript.mjs). */
declare module '*?script' {
  export const text: string;
  export const hash: string;
}
