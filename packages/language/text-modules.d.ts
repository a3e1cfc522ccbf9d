/** Text files are imported as strings by the bundler and the test runner. */
declare module '*.rig' {
  const text: string;
  export default text;
}
declare module '*.css' {
  const text: string;
  export default text;
}
