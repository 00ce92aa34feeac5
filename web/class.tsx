import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { ClassPages } from './pages/class/class-pages.tsx';
import { Crashed } from './parts/crashed.tsx';
import './style/tokens.css';
import './style/base.css';
import './style/shell.css';
import './style/parts.css';
import './pages/class/class.css';

// Going back to a page kept whole in memory would show how things stood then.
window.addEventListener('pageshow', (event) => {
  if (event.persisted) window.location.reload();
});

const root = document.getElementById('root');
if (!root) throw new Error('class.html has no element with the id "root".');
createRoot(root).render(
  <StrictMode>
    <Crashed>
      <ClassPages />
    </Crashed>
  </StrictMode>,
);
