/** What tests use of papaparse, which brings no types. */
declare module 'papaparse' {
  const Papa: {
    parse<T>(
      text: string,
      options?: { readonly skipEmptyLines?: boolean },
    ): { readonly data: T[]; readonly errors: readonly { readonly message: string }[] };
  };
  export default Papa;
}
