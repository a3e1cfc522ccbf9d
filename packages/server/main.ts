/** The server as a program. It speaks on standard input and output unless it is told another way (`--node-ipc`, `--pipe=`, `--socket=`). */
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { startServer } from './node';

if (!process.argv.slice(2).some((argument) => /^--(node-ipc|stdio|pipe|socket)\b/.test(argument))) process.argv.push('--stdio');
const connection = createConnection(ProposedFeatures.all);

// Whatever goes wrong in one answer is told and does not end the others.
for (const event of ['uncaughtException', 'unhandledRejection'] as const) {
  process.on(event, (problem: unknown) =>
    connection.console.error(problem instanceof Error ? (problem.stack ?? problem.message) : String(problem)),
  );
}
startServer(connection);
