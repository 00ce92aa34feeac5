import react from '@vitejs/plugin-react';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  base: '/',
  plugins: [react()],
  resolve: {
    alias: {
      '@stdlib/assert-has-generator-support': fileURLToPath(new URL('generator-support.cjs', import.meta.url)),
    },
  },
  server: { port: 5180, proxy: { '/api': 'http://127.0.0.1:4180' } },
  build: {
    outDir: '../.dist/web',
    emptyOutDir: true,
    // The pages are served with a policy that allows no data: addresses.
    assetsInlineLimit: 0,
    target: 'es2022',
  },
});
