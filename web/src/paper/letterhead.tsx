// The user's own letterhead; nothing where there is none.
import { logoTurn, shop, shopSetting } from "../state/shop.ts";

export function Letterhead() {
  const name = shopSetting("letterhead-name");
  const lines = shopSetting("letterhead-lines");
  const logo = shop.value?.logo;
  if (!name && !lines && !logo) return null;
  return (
    <header class="paper-letterhead">
      {logo && <img src={`/api/shop/logo?turn=${logoTurn.value}`} alt="" />}
      <div>
        {name && <p class="paper-name">{name}</p>}
        {lines && <p class="paper-lines">{lines}</p>}
      </div>
    </header>
  );
}
