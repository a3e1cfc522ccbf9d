/** What we use of papaparse, which brings no types. */
declare module 'papaparse' {
  const Papa: {
    parse<T>(
      text: string,
      options?: {
        readonly skipEmptyLines?: boolean;
        readonly delimitersToGuess?: readonly string[];
        readonly delimiter?: string;
        readonly preview?: number;
      },
    ): {
      readonly data: T[];
      readonly meta: { readonly delimiter: string };
      readonly errors: readonly { readonly type: string; readonly message: string; readonly row?: number }[];
    };
  };
  export default Papa;
}
