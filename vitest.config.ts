import { defineConfig } from 'vitest/config';

export default defineConfig({
  plugins: [
    {
      name: 'text-modules',
      transform: (code, id) => (/\.(rig|css)$/.test(id) ? { code: `export default ${JSON.stringify(code)}`, map: null } : undefined),
    },
  ],
  test: {
    include: ['tests/**/*.test.{ts,tsx}'],
    setupFiles: ['tests/setup.ts'],
    testTimeout: 30_000,
  },
});
