import { render } from 'preact';
import { App } from './App.tsx';
import './styles/tokens.css';
import './styles/base.css';
import './styles/frame.css';
import './styles/reading.css';
import './styles/form.css';

const root = document.getElementById('app');
if (root) render(<App />, root);
