import '@fontsource-variable/source-sans-3/wght.css'
import './ui/tokens.css'
import './ui/base.css'
import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { App } from './app/app.tsx'

const place = document.getElementById('page')
if (!place) throw new Error('index.html has no place for the page')
createRoot(place).render(
  <StrictMode>
    <App />
  </StrictMode>,
)
