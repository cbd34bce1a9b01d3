import { render } from 'preact';
import { App } from './App.tsx';
import { beginToSpeak } from './language.ts';
import { keepPage } from './offline/keepPage.ts';
import { openPage } from './session.ts';
import './styles/tokens.css';
import './styles/base.css';
import './styles/frame.css';
import './styles/reading.css';
import './styles/form.css';

const root = document.getElementById('app');
if (root) {
  await beginToSpeak();
  render(<App />, root);
  openPage();
  keepPage();
}
