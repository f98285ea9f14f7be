//! In which language the studio speaks.

use crate::error::{StoreError, during};
use crate::store::Store;
use lessonwright_model::Language;

const NAME: &str = "language";

impl Store {
    /// The language that was chosen for the studio; none until one is.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn studio_language(&self) -> Result<Option<Language>, StoreError> {
        let tag: Option<String> =
            sqlx::query_scalar("SELECT value FROM studio_settings WHERE name = ?")
                .bind(NAME)
                .fetch_optional(&self.pool)
                .await
                .map_err(during("look for the studio's language"))?;
        Ok(tag.as_deref().and_then(Language::of_tag))
    }

    /// Chooses the studio's language.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn choose_studio_language(&self, language: Language) -> Result<(), StoreError> {
        sqlx::query("INSERT OR REPLACE INTO studio_settings (name, value) VALUES (?, ?)")
            .bind(NAME)
            .bind(language.tag())
            .execute(&self.pool)
            .await
            .map_err(during("choose the studio's language"))?;
        Ok(())
    }
}
