import { render } from 'preact';
import { App } from './App.tsx';
import { beginToSpeak } from './language.ts';
import { keepPage } from './offline/keepPage.ts';
import { askVisitor, visitor } from './phone/visitor.ts';
import { openPage } from './session.ts';
import './styles/tokens.css';
import './styles/base.css';
import './styles/frame.css';
import './styles/reading.css';
import './styles/form.css';
import './styles/phone.css';

const begin = async (root: HTMLElement): Promise<void> => {
  await beginToSpeak();
  render(<App />, root);
  keepPage();
  await askVisitor();
  if (visitor.value?.visitor !== 'stranger') await openPage();
};

const root = document.getElementById('app');
if (root) begin(root);
