// Ages: what a plant gives in each season in the ground, one crop at a time.

import { useEffect, useState } from 'preact/hooks'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { answer, cropShown, fetching, refreshAges } from './ages'
import './ages.css'
import { readAgesSettings } from './ages_settings'
import { whence } from './ages_whence'
import { AgesReport } from './AgesReport'
import { CropChoice } from './CropChoice'
import { ShedFailed } from '../ui/ShedFailed'
import { WhatIs } from '../ui/WhatIs'

export function AgesPage() {
  const notebook = useNotebook()
  const live = notebook.sync.value.link === 'live'
  const [chosen, setChosen] = useState<string | undefined>(undefined)
  useEffect(() => readAgesSettings(notebook), [])
  useEffect(() => { void refreshAges(notebook) }, [live])
  const species = answer.value?.species ?? []
  const shown = cropShown(species, chosen)
  return (
    <>
      <PageHead title={t('ages.title')} back={href('beds')}>
        <span class="aside whence" role="status">{whence()}</span>
      </PageHead>
      <div class="page ages">
        <WhatIs of="ages" />
        <CropChoice species={species} shown={shown} onChoose={setChosen} />
        {fetching.value === 'failed' && <ShedFailed onRetry={() => void refreshAges(notebook)} />}
        {shown && <AgesReport key={shown.species} crop={shown.species} report={shown.report} />}
        {!shown && fetching.value !== 'failed' && <p class="say">{emptyText()}</p>}
      </div>
    </>
  )
}

function emptyText(): string {
  if (fetching.value === 'yes') return t('ages.fetching')
  return answer.value ? t('ages.none') : t('ages.offline')
}
