import { Flame } from "lucide-react";
import type { ReactNode } from "react";
import type { InstantMs } from "~/core/units";
import { celsius, duration, humidity, moment } from "../format";
import { Board } from "../kit/board";
import { Key } from "../kit/key";
import { Notice } from "../kit/notice";
import { Tag } from "../kit/tag";
import { listed } from "../trade-words";
import type { Names } from "../wording/words";
import { AirChart } from "./air-chart";
import { airFigures, forecastWords } from "./air-numbers";
import { CoatNowList } from "./coat-now-list";
import { type RoomReading, type RoomShown, roomUseWords } from "./room-shown";

type RoomBoardProps = { shown: RoomShown; now: InstantMs; zone: string; names: Names; keys: ReactNode };

export function RoomBoard({ shown, now, zone, names, keys }: RoomBoardProps) {
  const { room, reading, isAway, pieces, minimum, curve, air, forecast, coats } = shown;
  return (
    <Board
      title={room.name}
      aside={<span className="room-uses">{listed(room.uses.map((use) => roomUseWords[use]))}</span>}
    >
      {isAway ? (
        <p>Away from the shop. Nobody reads a thermometer there.</p>
      ) : reading ? (
        <LastReading reading={reading} gapLimitMin={room.gapLimitMin} now={now} zone={zone} />
      ) : (
        <Notice kind="person" title="Never read">
          Until somebody reads the thermometer, films in here earn nothing and no gate opens. Shown as likely meanwhile:
          the room’s usual {celsius(room.usualCelsius)} and {humidity(room.usualHumidityPercent)}.
        </Notice>
      )}
      <CoatNowList found={coats} now={now} zone={zone} />
      {!isAway && (
        <details className="room-numbers">
          <summary>The numbers behind it</summary>
          <dl className="facts">
            {reading &&
              airFigures(reading).map(({ label, words }) => (
                <div key={label}>
                  <dt>{label}</dt>
                  <dd>{words}</dd>
                </div>
              ))}
            <div>
              <dt>Hours to come</dt>
              <dd>{forecastWords(air, forecast, names, now, zone)}</dd>
            </div>
          </dl>
          <p className="why">The data sheet of the product in hand outranks every answer here.</p>
        </details>
      )}
      {room.hasOpenFlame && (
        <p className="room-flame">
          <Flame aria-hidden="true" size={20} /> An open flame or pilot light burns in here.
        </p>
      )}
      <div className="room-pieces">
        <b>{pieces.length === 0 ? "No piece stands here." : "Here now:"}</b>
        {pieces.map((piece) => (
          <Tag key={piece.id} number={piece.number} href={`/piece?id=${piece.id}`} />
        ))}
      </div>
      {!isAway && reading && (
        <>
          <AirChart
            title="Air"
            unit="°C"
            curve={curve}
            figureOf={(point) => point.celsius}
            limit={
              minimum && {
                value: minimum.celsius,
                words: `${listed(minimum.products)}: at least ${celsius(minimum.celsius)}`,
              }
            }
            zone={zone}
          />
          <AirChart
            title="Humidity"
            unit="% RH"
            curve={curve}
            figureOf={(point) => point.humidityPercent}
            zone={zone}
          />
        </>
      )}
      {!isAway && reading && (
        <Key kind="quiet" href={`/hit?room=${room.id}`} aria-label={`What was hit in the ${room.name.toLowerCase()}?`}>
          What was hit in here?
        </Key>
      )}
      {keys}
    </Board>
  );
}

type LastReadingProps = { reading: RoomReading; gapLimitMin: number; now: InstantMs; zone: string };

function LastReading({ reading, gapLimitMin, now, zone }: LastReadingProps) {
  const { at, airCelsius, humidityPercent, isOld } = reading;
  return (
    <>
      <p className="room-air">
        <b>{celsius(airCelsius)}</b> <b>{humidity(humidityPercent)}</b>
        <span>
          read {moment(at, now, zone)}, {duration((now - at) / 1000)} ago
        </span>
      </p>
      {isOld && (
        <Notice kind="person" title={`Not read for ${duration((now - at) / 1000)}`}>
          This room may go {duration(gapLimitMin * 60)} without. What is longer earns nothing until somebody reads
          again; a lowest-since reading fills it.
        </Notice>
      )}
    </>
  );
}
