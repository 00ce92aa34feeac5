import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';
import './style/tokens.css';
import './style/base.css';
import './style/shell.css';
import './style/parts.css';

const root = document.getElementById('root');
if (!root) throw new Error('index.html has no element with the id "root".');
createRoot(root).render(
  <StrictMode>
    <App />
  </StrictMode>,
);
