import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { Penstock } from './shell/Penstock.tsx'
import { chooseTheme, chosenTheme } from './shell/theme.ts'
import './design/tokens.css'
import './design/page.css'

chooseTheme(chosenTheme())
const place = document.getElementById('penstock')
if (!place) throw new Error('The page has no place for the window')
createRoot(place).render(
  <StrictMode>
    <Penstock />
  </StrictMode>,
)
