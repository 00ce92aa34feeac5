import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';
import './style/tokens.css';
import './style/base.css';
import './style/shell.css';
import './style/parts.css';

// Going back to a page kept whole in memory would show what its person saw, after they signed out.
window.addEventListener('pageshow', (event) => {
  if (event.persisted) window.location.reload();
});

const root = document.getElementById('root');
if (!root) throw new Error('index.html has no element with the id "root".');
createRoot(root).render(
  <StrictMode>
    <App />
  </StrictMode>,
);
