/* Binds pages of the handbook into one, to be printed as a book: each page’s own part goes in, with
   its anchors made its own and links between the pages kept. */
async ([pages]) => {
  const first = document.querySelector(".chapter");
  const holder = first.parentElement;
  document.documentElement.classList.add("book");
  holder.replaceChildren();
  document.title = document.querySelector(".md-header__topic").textContent.trim();
  const title = document.createElement("div");
  title.className = "book__title";
  const heading = document.createElement("h1");
  heading.textContent = document.querySelector(".md-header__topic").textContent.trim();
  const list = document.createElement("ol");
  title.append(heading, list);
  holder.append(title);
  for (const [at, address] of pages.entries()) {
    const text = await (await fetch(address)).text();
    const part = new DOMParser().parseFromString(text, "text/html").querySelector(".chapter");
    for (const element of part.querySelectorAll("[id]")) element.id = `part-${at}-${element.id}`;
    for (const name of ["for", "aria-labelledby", "aria-describedby", "aria-details"])
      for (const element of part.querySelectorAll(`[${name}]`))
        element.setAttribute(name, element.getAttribute(name).split(" ")
          .map((id) => `part-${at}-${id}`).join(" "));
    for (const link of part.querySelectorAll("a[href]")) {
      const target = new URL(link.getAttribute("href"), new URL(address, location.href));
      const to = pages.findIndex((page) => new URL(page, location.href).pathname === target.pathname);
      if (to < 0) { link.removeAttribute("href"); continue; }
      link.href = `#part-${to}-${target.hash.slice(1) || "chapter"}`;
    }
    const name = part.querySelector("h1");
    if (name && !name.id) name.id = `part-${at}-chapter`;
    const entry = document.createElement("li");
    const link = document.createElement("a");
    link.href = `#${name.id}`;
    link.textContent = [...name.childNodes].find((node) => node.nodeType === 3).data.trim();
    entry.append(link);
    list.append(entry);
    part.classList.add("book__part");
    holder.append(document.importNode(part, true));
  }
}
