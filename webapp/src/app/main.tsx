// The first script of the page.

import { render } from 'preact'
import '../ui/tokens.css'
import '../ui/base.css'
import '../ui/controls.css'
import './app.css'
import { followInstallOffer } from '../join/install'
import { followLinks } from '../join/link'
import { followLanguage } from '../messages/messages'
import { dressDocument } from '../ui/device'
import { followHash } from '../ui/route'
import { followToday } from '../ui/today'
import { App } from './App'
import { keepForField } from './field'

dressDocument()
followLinks()
followHash()
followToday()
followInstallOffer()
const root = document.getElementById('app')
await followLanguage()
if (root) render(<App />, root)
void keepForField()
