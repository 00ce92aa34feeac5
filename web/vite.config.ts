import react from '@vitejs/plugin-react';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

const inWeb = (name: string): string => fileURLToPath(new URL(name, import.meta.url));

export default defineConfig({
  root: inWeb('.'),
  base: '/',
  plugins: [react()],
  resolve: {
    alias: {
      '@stdlib/assert-has-generator-support': inWeb('generator-support.cjs'),
    },
  },
  server: { port: 5180, proxy: { '/api': 'http://127.0.0.1:4180' } },
  build: {
    outDir: '../.dist/web',
    emptyOutDir: true,
    // The pages are served with a policy that allows no data: addresses.
    assetsInlineLimit: 0,
    target: 'es2022',
    // Phones of a class get pages of their own, without the rooms of the laboratory.
    rollupOptions: { input: [inWeb('index.html'), inWeb('class.html')] },
  },
});
