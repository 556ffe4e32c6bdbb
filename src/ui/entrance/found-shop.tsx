"use client";
import { useEffect, useState } from "react";
import { apiClient } from "../api";
import { BareBoards } from "../kit/bare-boards";
import { ChoiceField } from "../kit/choice-field";
import { Key } from "../kit/key";
import { TextField } from "../kit/text-field";
import { enterAndArrive, newId } from "./arrive";
import { EntranceForm } from "./entrance-form";
import { arrivalOf, nobodyYet, type Person, PersonFields, personMissing } from "./person";
import { countryName, currencies, currencyOf, type PlaceHere, placeHere, zonesWith } from "./place-here";
import { isSecretLike } from "./secret-in-address";
import { WeekStartField } from "./week-start-field";

type ShopDraft = PlaceHere & { code: string; name: string; weekStartsOn: number };

/** The first start of an installation: one person, with the code from the terminal, makes the shop and is its owner. */
export function FoundShop() {
  // which zone and country can only be known in the browser
  const [place, setPlace] = useState<PlaceHere>();
  useEffect(() => setPlace(placeHere(navigator.language, Intl.DateTimeFormat().resolvedOptions().timeZone)), []);
  return place ? <FoundForm place={place} /> : <BareBoards count={3} />;
}

function FoundForm({ place }: { place: PlaceHere }) {
  const [shop, setShop] = useState<ShopDraft>({ ...place, code: "", name: "", weekStartsOn: 1 });
  const [person, setPerson] = useState(nobodyYet);
  const [ids] = useState(() => ({ intentId: newId(), shopId: newId(), memberId: newId(), boardId: newId() }));
  const set = (fields: Partial<ShopDraft>) => setShop((shown) => ({ ...shown, ...fields }));
  return (
    <>
      <h1>Found the shop</h1>
      <p className="entrance-lead">Once, by whoever will own it. Everybody else comes in by your invitation.</p>
      <EntranceForm
        words="Found the shop"
        missing={() => shopMissing(shop) ?? personMissing(person)}
        send={() => enterAndArrive(() => found(shop, person, ids), person)}
      >
        {(stopped) => (
          <>
            <TextField
              label="Code from the terminal"
              note="The program printed it when it started. Good for one day and one shop."
              value={shop.code}
              onChange={(code) => set({ code: code.trim() })}
              autoComplete="off"
              maxLength={80}
              isRequired
              glove
            />
            <h2>The shop</h2>
            <TextField
              label="Name of the shop"
              name="organization"
              autoComplete="organization"
              value={shop.name}
              onChange={(name) => set({ name })}
              maxLength={80}
              isRequired
              glove
            />
            <PlaceFields shop={shop} set={set} />
            <h2>You, its owner</h2>
            <PersonFields value={person} onChange={setPerson} stopped={stopped} />
          </>
        )}
      </EntranceForm>
      <Key kind="quiet" glove href="/sign-in">
        The shop is there already: sign in
      </Key>
    </>
  );
}

function PlaceFields({ shop, set }: { shop: ShopDraft; set: (fields: Partial<ShopDraft>) => void }) {
  const [zones] = useState(() => zonesWith(shop.zone).map((zone) => ({ id: zone, words: zone })));
  const [money] = useState(currencies);
  const writeCountry = (typed: string) => {
    const country = typed.toUpperCase();
    set({ country, currency: currencyOf(country) ?? shop.currency });
  };
  return (
    <>
      <ChoiceField
        label="Time zone"
        note="All times are the shop’s, wherever a phone is."
        choices={zones}
        chosen={shop.zone}
        onChoose={(zone) => set({ zone })}
      />
      <div className="entrance-pair">
        <TextField
          label="Country, two letters"
          name="country"
          autoComplete="country"
          note={countryName(shop.country) ?? "US, DE, JP …"}
          value={shop.country}
          onChange={writeCountry}
          maxLength={2}
          isRequired
        />
        <ChoiceField
          label="Currency"
          choices={money}
          chosen={shop.currency}
          onChoose={(currency) => set({ currency })}
        />
      </div>
      <WeekStartField value={shop.weekStartsOn} onChange={(weekStartsOn) => set({ weekStartsOn })} />
    </>
  );
}

function shopMissing({ code, name, country }: ShopDraft): string | undefined {
  if (!isSecretLike(code)) return "Write the code from the terminal, whole.";
  if (name.trim() === "") return "Write the shop’s name.";
  return countryName(country) === undefined ? "Write the country as its two letters." : undefined;
}

type Ids = { intentId: string; shopId: string; memberId: string; boardId: string };

const found = (shop: ShopDraft, person: Person, { intentId, shopId, memberId, boardId }: Ids) =>
  apiClient.account.found.mutate({
    code: shop.code,
    shopId,
    signInName: person.signInName,
    password: person.password,
    intentId,
    body: {
      shopId,
      name: shop.name,
      zone: shop.zone,
      country: shop.country,
      currency: shop.currency,
      weekStartsOn: shop.weekStartsOn,
      ...arrivalOf(person, memberId),
      boardId,
      boardName: "Workshop",
    },
  });
