// The form: what is missing is said beside it, the bundle is made, then shared or saved. Expects the markup of send.html.

{
  const about = JSON.parse(document.getElementById("about").textContent);
  const words = about.words;
  const megabytes = (file) =>
    words.size.replace("NAME", file.name).replace("SIZE", (file.size / 1e6).toFixed(1).replace(".", words.decimal_mark));
  const form = document.getElementById("form");
  const said = document.getElementById("said");
  const done = document.getElementById("done");
  const bar = document.getElementById("bar");
  const make = document.getElementById("make");
  const MOST_BYTES = 2 ** 30;

  const field = (name) => form.elements[name];
  const chosen = (name) => field(name).files[0];
  const hurts = () => field("pain").value === "yes";

  form.hidden = false;
  form.addEventListener("change", () => {
    document.getElementById("where").hidden = !hurts();
    for (const view of ["face_on", "down_the_line"]) {
      const file = chosen(view);
      document.getElementById(`size-${view}`).textContent = file ? megabytes(file) : "";
    }
  });

  function missing() {
    const clips = ["face_on", "down_the_line"].map(chosen).filter(Boolean);
    if (clips.length === 0) return [words.no_film, "face_on"];
    if (clips.some((file) => file.size > MOST_BYTES)) return [words.too_long, "face_on"];
    if (clips.length === 2 && clips[0].name === clips[1].name && clips[0].size === clips[1].size) {
      return [words.same_twice, "down_the_line"];
    }
    if (!field("pain").value) return [words.say_pain, "pain"];
    if (hurts() && !field("area").value) return [words.say_where, "area"];
    return null;
  }

  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    done.hidden = true;
    const wrong = missing();
    said.textContent = wrong ? wrong[0] : "";
    said.className = wrong ? "wrong" : "";
    if (wrong) {
      const at = field(wrong[1]);
      (at instanceof RadioNodeList ? at[0] : at).focus();
      return;
    }
    make.disabled = true;
    bar.hidden = false;
    try {
      const clips = ["face_on", "down_the_line"].filter(chosen).map((view) => ({ view, file: chosen(view) }));
      const all = clips.reduce((sum, clip) => sum + clip.file.size, 0);
      let read = 0;
      const told = (bytes) => { bar.value = (read += bytes) / all; };
      const now = new Date();
      const day = [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((n) => String(n).padStart(2, "0")).join("-");
      const answers = {
        pain_answered: true,
        pains: hurts() ? [{ area: field("area").value, strength: Number(field("strength").value) }] : [],
        flight: field("flight").value,
        club: field("club").value,
        feel: field("feel").value,
        words: field("words").value,
      };
      const file = new File([await bundle(about, day, clips, answers, told)], `swing-${day}.zip`, { type: "application/zip" });
      offer(file);
    } catch (error) {
      said.className = "wrong";
      said.textContent = words.unreadable.replace("WHY", error.message);
    } finally {
      make.disabled = false;
      bar.hidden = true;
    }
  });

  function offer(file) {
    const save = document.getElementById("save");
    if (save.href.startsWith("blob:")) URL.revokeObjectURL(save.href);
    save.href = URL.createObjectURL(file);
    save.download = file.name;
    const share = document.getElementById("share");
    share.hidden = !navigator.canShare?.({ files: [file] });
    share.onclick = () => navigator.share({ files: [file], title: file.name }).catch((error) => {
      // The player closed the sheet: nothing is wrong.
      if (error.name !== "AbortError") said.textContent = words.not_shared;
    });
    document.getElementById("name").textContent = megabytes(file);
    done.hidden = false;
    done.focus();
  }
}
