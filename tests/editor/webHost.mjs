/**
 * The browser edition of the workbench, from the same package as `host.mjs`: no server behind it that runs anything, every extension
 * in the browser's own worker, and a folder in a file system that is in memory only.
 */
import { execFileSync } from 'node:child_process';
import { createReadStream, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import http from 'node:http';
import os from 'node:os';
import path from 'node:path';
import { entry, QUIET } from './host.mjs';

const workbench = path.join(path.dirname(entry), '../../lib/vscode');

const TYPES = { '.js': 'text/javascript', '.json': 'application/json', '.css': 'text/css', '.html': 'text/html', '.svg': 'image/svg+xml' };

/**
 * What this workbench does otherwise than the one it is made from: it asks the server that it came from for everything, and keeps what
 * belongs to the user there. Without that it is the browser edition.
 */
const SERVER_BEHIND = [
  [/remoteAuthority:location\.host/, 'remoteAuthority:void 0'],
  [/\.with\(\{scheme:(\w+)\.vscodeRemote\}\),"User"\)/, '.with({scheme:$1.vscodeUserData}),"User")'],
];

/**
 * Serves a workbench that has the packaged extension in the browser, and a folder `memory:/rigs` of these files.
 * @param {{ vsix: string, files: Record<string, string>, settings?: object }} what
 * @returns {Promise<{ url: string, stop: () => Promise<void> }>}
 */
export async function serveWeb({ vsix, files, settings = {} }) {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'earloom-web-'));
  execFileSync('unzip', ['-q', vsix, '-d', folder]);
  const roots = { workbench, earloom: path.join(folder, 'extension'), memory: path.join(folder, 'memory') };
  execFileSync('cp', ['-r', path.join(import.meta.dirname, 'memory'), roots.memory]);
  writeFileSync(path.join(roots.memory, 'files.json'), JSON.stringify(files));

  const server = http.createServer((request, response) => {
    const { pathname } = new URL(request.url ?? '/', 'http://host');
    if (pathname === '/') return answer(response, '.html', page(server.address().port, settings));
    const [, root = '', ...rest] = decodeURIComponent(pathname).split('/');
    const file = path.join(roots[root] ?? folder, ...rest);
    if (!roots[root] || rest.includes('..') || !statSync(file, { throwIfNoEntry: false })?.isFile()) return response.writeHead(404).end();
    if (file.endsWith('/workbench/workbench.js')) return answer(response, '.js', withoutServer(readFileSync(file, 'utf8')));
    response.writeHead(200, headers(path.extname(file)));
    createReadStream(file).pipe(response);
  });
  await new Promise((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    url: `http://localhost:${server.address().port}/`,
    stop: async () => {
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

function headers(ending) {
  return { 'Content-Type': TYPES[ending] ?? 'application/octet-stream', 'Access-Control-Allow-Origin': '*', 'Service-Worker-Allowed': '/' };
}

function answer(response, ending, text) {
  response.writeHead(200, headers(ending)).end(text);
}

function withoutServer(script) {
  return SERVER_BEHIND.reduce((text, [found, instead]) => {
    if (!found.test(text)) throw new Error(`The workbench is another than was expected: there is no ${found} in it.`);
    return text.replace(found, instead);
  }, script);
}

/** As the workbench's own page, with what is to be in it. */
function page(port, settings) {
  const at = (root) => ({ scheme: 'http', authority: `localhost:${port}`, path: `/${root}` });
  const configuration = {
    folderUri: { scheme: 'memory', authority: '', path: '/rigs' },
    userDataPath: '/user',
    isEnabledFileDownloads: false,
    isEnabledFileUploads: false,
    isEnabledCoderGettingStarted: false,
    additionalBuiltinExtensions: [at('earloom'), at('memory')],
    configurationDefaults: { ...QUIET, ...settings },
    productConfiguration: {
      ...JSON.parse(readFileSync(path.join(workbench, 'product.json'), 'utf8')),
      extensionsGallery: undefined,
      webEndpointUrlTemplate: undefined,
      webviewContentExternalBaseUrlTemplate: `http://localhost:${port}/workbench/out/vs/workbench/contrib/webview/browser/pre/`,
    },
  };
  const values = {
    WORKBENCH_WEB_CONFIGURATION: JSON.stringify(configuration).replaceAll('&', '&amp;').replaceAll('"', '&quot;'),
    WORKBENCH_AUTH_SESSION: '',
    WORKBENCH_WEB_BASE_URL: '/workbench',
    WORKBENCH_NLS_FALLBACK_URL: '/workbench/out/nls.messages.js',
    WORKBENCH_NLS_URL: '/workbench/out/nls.messages.js',
    BASE: '/workbench',
    VS_BASE: '/workbench',
  };
  const template = readFileSync(path.join(workbench, 'out/vs/code/browser/workbench/workbench.html'), 'utf8');
  return template.replace(/\{\{(\w+)\}\}/g, (_, name) => values[name] ?? '');
}
