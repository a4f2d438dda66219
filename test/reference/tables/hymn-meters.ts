/**
 * Hymn meters as printed in the heads of the Open Hymnal Project's files (seed-data/hymns), figures with points. Its
 * editor counts a refrain's lines with those of the verse.
 */
export const PUBLISHED_METERS: Readonly<Record<string, string>> = {
  'Abide_With_Me-Eventide.abc': '10.10.10.10',
  'All_Hail_The_Power_Of_Jesus_Name-Coronation.abc': '8.6.8.6.8.6',
  'All_Praise_To_Thee_My_God_This_Night-Tallis_Canon.abc': '8.8.8.8',
  'Alleluia_Sing_To_Jesus-Hyfrydol.abc': '8.7.8.7.8.7.8.7',
  'Amazing_Grace-New_Britain.abc': '8.6.8.6',
  'Awake_My_Soul_And_With_The_Sun-Old_100th.abc': '8.8.8.8',
  'Be_Thou_My_Vision-Slane.abc': '10.10.10.10',
  'Blessed_Assurance-Blessed_Assurance-Assurance.abc': '9.10.9.9.9.9.9.9',
  'Christ_The_Lord_Is_Risen_Today-Llanfair.abc': '7.7.7.7 with alleluias',
  'Holy_Holy_Holy-Nicaea.abc': '6.6.6.6.6.6.5.5',
  'Hosanna_Loud_Hosanna-Ellacombe.abc': '7.6.7.6.7.6.7.6',
  'How_Firm_A_Foundation-Foundation-Protection.abc': '11.11.11.11',
  'I_Know_That_My_Redeemer_Lives-Duke_Street.abc': '8.8.8.8',
  'Immortal_Invisible_God_Only_Wise-St_Denio.abc': '11.11.11.11',
  'Let_All_Mortal_Flesh_Keep_Silence-Picardy.abc': '8.7.8.7.8.7',
  'Now_Thank_We_All_Our_God-Nun_Danket.abc': '6.7.6.7.6.6.6.6',
  'O_Come_O_Come_Emmanuel-Veni_Emmanuel.abc': '8.8.8.8.8.8',
  'O_For_A_Thousand_Tongues-Azmon.abc': '8.6.8.6',
  'O_Little_Town_Of_Bethlehem-St_Louis.abc': '8.6.8.6.7.6.8.6',
  'Our_God_Our_Help_In_Ages_Past-St_Anne.abc': '8.6.8.6',
  'Praise_My_Soul_The_King_Of_Heaven-Praise_My_Soul-Lauda_Anima.abc': '8.7.8.7.8.7',
  'Silent_Night-Stille_Nacht.abc': '6.6.8.8.6.6',
  'The_Churchs_One_Foundation-Aurelia.abc': '7.6.7.6.7.6.7.6',
  'What_Child_Is_This-Greensleeves.abc': '8.7.8.7.6.8.6.7',
};
