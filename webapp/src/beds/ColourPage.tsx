// The stand's colour, one crop at a time: what became of it, every plant in one drawing, and what follows.

import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { go, href } from '../ui/route'
import './ages.css'
import './colour.css'
import { fetching, refreshColours } from './colours'
import { ColourReport } from './ColourReport'
import { CropChoice } from './CropChoice'
import { ShedFailed } from '../ui/ShedFailed'
import { coloursLacking, coloursWhence, cropInRoute, useColours } from './use_colours'

export function ColourPage() {
  const notebook = useNotebook()
  const { species, shown } = useColours()
  return (
    <>
      <PageHead title={t('colours.title')} back={href('beds')}>
        <span class="aside whence" role="status">{coloursWhence()}</span>
      </PageHead>
      <div class="page ages colour-page">
        <CropChoice species={species} shown={shown} onChoose={(one) => go('beds', 'colour', cropInRoute(one))} />
        {fetching.value === 'failed' && <ShedFailed onRetry={() => void refreshColours(notebook)} />}
        {shown && <ColourReport key={shown.species} told={shown} />}
        {!shown && fetching.value !== 'failed' && <p class="say">{coloursLacking()}</p>}
      </div>
    </>
  )
}
