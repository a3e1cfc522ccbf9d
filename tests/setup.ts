import { beforeEach } from 'vitest';
import { oneIn } from './thorough';

let turn = 0;

beforeEach(({ task, skip }) => {
  const every = oneIn(task.file.filepath);
  if (turn++ % every !== 0) skip('one of many like it: npm run test:all runs it');
});
