// What is to be done by the stage of the crop and the weather, and the weather itself.

import { route } from '../ui/route'
import './season.css'
import { TasksPage } from './TasksPage'
import { WeatherPage } from './WeatherPage'

export function SeasonPlace() {
  return route.value[1] === 'weather' ? <WeatherPage /> : <TasksPage />
}
