/** As much of the XML parser as the tests use. */
declare module 'sax' {
  interface Parser {
    onerror: (error: Error) => void;
    onopentag: (tag: { readonly name: string; readonly attributes: Readonly<Record<string, string>> }) => void;
    onclosetag: (name: string) => void;
    ontext: (text: string) => void;
    write(text: string): Parser;
    close(): Parser;
  }
  const sax: { parser(strict: boolean): Parser };
  export default sax;
}
